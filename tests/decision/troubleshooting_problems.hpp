// Small planning problems at random, and their least expected cost by going through everything, written apart from the
// library: worlds with weights, one recursion, no bounds.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cstddef>
#include <limits>
#include <random>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "faultodds/decision/planning/troubleshooting.hpp"

namespace faultodds_tests {

struct ProblemShape {
  std::size_t hypotheses = 3;
  std::size_t tests = 2;
  std::size_t repairs = 2;
  std::size_t set_ups = 0;
  bool conditions = false;         // the first two set-ups exclude each other
  bool sharp_tests = false;        // rows of zeros and ones
  bool perfect_repairs = false;    // success 0 or 1, verification never wrong
  bool wrong_still_there = false;  // verifications may say so of a cured vehicle
  bool partial = false;            // repairs may leave another hypothesis
  bool live_with = false;
  bool repair_elsewhere = false;  // handing over costs more for some hypotheses
};

class ProblemSource {
 public:
  explicit ProblemSource(unsigned seed) : engine_(seed) {}

  [[nodiscard]] double amount(double low, double high) {
    return low + (high - low) * std::uniform_real_distribution<double>()(engine_);
  }
  [[nodiscard]] std::size_t below(std::size_t size) {
    return std::uniform_int_distribution<std::size_t>(0, size - 1)(engine_);
  }
  [[nodiscard]] bool chance(double p) { return amount(0.0, 1.0) < p; }

  [[nodiscard]] faultodds::TroubleshootingProblem problem(const ProblemShape& shape) {
    faultodds::TroubleshootingProblem made;
    for (std::size_t h = 0; h < shape.hypotheses; ++h) {
      made.hypotheses.push_back("h" + std::to_string(h));
      made.weights.push_back(chance(0.1) && h > 0 ? 0.0 : amount(0.05, 1.0));
    }
    for (std::size_t s = 0; s < shape.set_ups; ++s) made.set_ups.push_back(set_up(shape, s));
    for (std::size_t t = 0; t < shape.tests; ++t) made.tests.push_back(test(shape, t));
    for (std::size_t r = 0; r < shape.repairs; ++r) made.repairs.push_back(repair(shape, r));
    made.ends.hand_over = amount(5.0, 60.0);
    for (std::size_t h = 0; shape.repair_elsewhere && h < shape.hypotheses; ++h) {
      made.repair_elsewhere.push_back(chance(0.3) ? 0.0 : amount(0.0, 60.0));
    }
    if (shape.live_with) made.ends.live_with = amount(5.0, 60.0);
    if (!shape.perfect_repairs) made.ends.comeback = amount(20.0, 120.0);
    return made;
  }

 private:
  [[nodiscard]] faultodds::SetUp set_up(const ProblemShape& shape, std::size_t s) {
    faultodds::SetUp made{
        .name = "s" + std::to_string(s), .cost = amount(0.0, 6.0), .needs = {}, .group = {}, .in_place = chance(0.2)};
    const std::size_t conditions = shape.conditions ? std::min<std::size_t>(2, shape.set_ups) : 0;
    if (s < conditions) {
      made.group = "engine";
      made.in_place = s == 0;
    } else if (s > 0 && chance(0.5)) {
      made.needs.push_back(below(s));
    }
    return made;
  }

  [[nodiscard]] std::vector<std::size_t> wanted(const ProblemShape& shape) {
    if (shape.set_ups == 0 || chance(0.4)) return {};
    std::vector<std::size_t> set_ups{below(shape.set_ups)};
    const std::size_t other = below(shape.set_ups);
    const bool exclude = shape.conditions && set_ups[0] < 2 && other < 2;
    if (chance(0.3) && other != set_ups[0] && !exclude) set_ups.push_back(other);
    return set_ups;
  }

  [[nodiscard]] faultodds::TestAction test(const ProblemShape& shape, std::size_t t) {
    faultodds::TestAction made{.name = "t" + std::to_string(t),
                               .cost = chance(0.05) ? 0.0 : amount(0.5, 6.0),
                               .set_ups = wanted(shape),
                               .outcomes = {},
                               .table = {}};
    const std::size_t outcomes = chance(0.25) ? 3 : 2;
    for (std::size_t o = 0; o < outcomes; ++o) made.outcomes.push_back("o" + std::to_string(o));
    for (std::size_t h = 0; h <= shape.hypotheses; ++h) {
      std::vector<double> row(outcomes, 0.0);
      if (shape.sharp_tests || chance(0.2)) {
        row[below(outcomes)] = 1.0;
      } else {
        double sum = 0.0;
        for (double& p : row) sum += p = amount(0.01, 1.0);
        for (double& p : row) p /= sum;
      }
      made.table.insert(made.table.end(), row.begin(), row.end());
    }
    if (!shape.wrong_still_there) made.table.resize(shape.hypotheses * outcomes);
    return made;
  }

  [[nodiscard]] faultodds::RepairAction repair(const ProblemShape& shape, std::size_t r) {
    faultodds::RepairAction made;
    made.name = "r" + std::to_string(r);
    made.cost = chance(0.05) ? 0.0 : amount(2.0, 30.0);
    made.set_ups = wanted(shape);
    made.verification.cost = chance(0.5) ? amount(0.0, 3.0) : 0.0;
    for (std::size_t h = 0; h < shape.hypotheses; ++h) {
      const bool mends = h == r || chance(0.25);
      made.success.push_back(!mends ? 0.0 : shape.perfect_repairs ? 1.0 : amount(0.5, 1.0));
      if (shape.partial) made.becomes.push_back(chance(0.6) ? faultodds::RepairAction::cured : below(shape.hypotheses));
    }
    if (!shape.perfect_repairs && chance(0.5)) made.verification.false_cured = amount(0.0, 0.2);
    if (shape.wrong_still_there && chance(0.7)) made.verification.false_still_there = amount(0.0, 0.2);
    return made;
  }

  std::mt19937 engine_;
};

/// All that can be done from here, gone through without a bound. Costs are in proportion to the weights of the worlds.
class Enumeration {
 public:
  explicit Enumeration(const faultodds::TroubleshootingProblem& problem) : problem_(problem) {}

  [[nodiscard]] double min_cost() const { return least(start()); }

  /// Expected cost of each policy there is, every combination of what follows each outcome.
  [[nodiscard]] std::vector<double> cost_of_each_policy() const { return every(start()); }

 private:
  struct Place {
    std::vector<double> worlds;  // by hypothesis, then cured
    std::set<std::size_t> tests, repairs, ready;
  };
  struct Move {
    double paid = 0.0;
    std::vector<Place> next;
  };

  [[nodiscard]] Place start() const {
    Place place;
    double sum = 0.0;
    for (const double weight : problem_.weights) sum += weight;
    for (const double weight : problem_.weights) place.worlds.push_back(weight / sum);
    place.worlds.push_back(0.0);
    for (std::size_t s = 0; s < problem_.set_ups.size(); ++s) {
      if (problem_.set_ups[s].in_place) place.ready.insert(s);
    }
    return place;
  }

  [[nodiscard]] static double mass(const Place& place) {
    double sum = 0.0;
    for (const double w : place.worlds) sum += w;
    return sum;
  }

  double prepare(std::size_t s, std::set<std::size_t>& ready) const {
    if (ready.count(s) != 0) return 0.0;
    const faultodds::SetUp& set_up = problem_.set_ups[s];
    double paid = set_up.cost + prepare(set_up.needs, ready);
    if (!set_up.group.empty()) {
      for (std::size_t other = 0; other < problem_.set_ups.size(); ++other) {
        if (problem_.set_ups[other].group == set_up.group) ready.erase(other);
      }
    }
    ready.insert(s);
    return paid;
  }

  double prepare(const std::vector<std::size_t>& wanted, std::set<std::size_t>& ready) const {
    double paid = 0.0;
    for (const std::size_t s : wanted) paid += problem_.set_ups[s].group.empty() ? prepare(s, ready) : 0.0;
    for (const std::size_t s : wanted) paid += problem_.set_ups[s].group.empty() ? 0.0 : prepare(s, ready);
    return paid;
  }

  [[nodiscard]] std::vector<double> ends(const Place& place) const {
    std::vector<double> costs;
    if (problem_.ends.hand_over) {
      double cost = *problem_.ends.hand_over * mass(place);
      for (std::size_t h = 0; h < problem_.repair_elsewhere.size(); ++h) {
        cost += place.worlds[h] * problem_.repair_elsewhere[h];
      }
      costs.push_back(cost);
    }
    if (problem_.ends.live_with) costs.push_back(*problem_.ends.live_with * (mass(place) - place.worlds.back()));
    return costs;
  }

  [[nodiscard]] std::vector<Move> moves(const Place& place) const {
    std::vector<Move> all;
    const std::size_t n = problem_.hypotheses.size();
    for (std::size_t t = 0; t < problem_.tests.size(); ++t) {
      const faultodds::TestAction& test = problem_.tests[t];
      const std::size_t width = test.outcomes.size();
      if (place.tests.count(t) != 0) continue;
      std::set<std::vector<double>> rows;
      for (std::size_t h = 0; h <= n; ++h) {
        if (place.worlds[h] > 0.0) rows.insert({&test.table[h * width], &test.table[h * width] + width});
      }
      if (rows.size() < 2) continue;
      Move move;
      Place next = place;
      next.tests.insert(t);
      move.paid = mass(place) * (test.cost + prepare(test.set_ups, next.ready));
      for (std::size_t o = 0; o < width; ++o) {
        for (std::size_t h = 0; h <= n; ++h) {
          next.worlds[h] = place.worlds[h] > 0.0 ? place.worlds[h] * test.table[h * width + o] : 0.0;
        }
        if (mass(next) > 0.0) move.next.push_back(next);
      }
      all.push_back(move);
    }
    for (std::size_t r = 0; r < problem_.repairs.size(); ++r) {
      const faultodds::RepairAction& repair = problem_.repairs[r];
      double works = 0.0;
      for (std::size_t h = 0; h < n; ++h) works += place.worlds[h] * repair.success[h];
      if (place.repairs.count(r) != 0 || !(works > 0.0)) continue;
      Move move;
      Place next = place;
      next.repairs.insert(r);
      move.paid = mass(place) * (repair.cost + repair.verification.cost + prepare(repair.set_ups, next.ready));
      std::vector<double> after(n + 1, 0.0);
      after[n] = place.worlds[n];
      for (std::size_t h = 0; h < n; ++h) {
        const bool all_gone = repair.becomes.empty() || repair.becomes[h] == faultodds::RepairAction::cured;
        after[all_gone ? n : repair.becomes[h]] += place.worlds[h] * repair.success[h];
        after[h] += place.worlds[h] * (1.0 - repair.success[h]);
      }
      for (std::size_t h = 0; h < n; ++h) {
        move.paid += problem_.ends.comeback.value_or(0.0) * after[h] * repair.verification.false_cured;
        next.worlds[h] = after[h] * (1.0 - repair.verification.false_cured);
      }
      next.worlds[n] = after[n] * repair.verification.false_still_there;
      if (mass(next) > 0.0) move.next.push_back(next);
      all.push_back(move);
    }
    return all;
  }

  [[nodiscard]] double least(const Place& place) const {
    double best = std::numeric_limits<double>::infinity();
    for (const double cost : ends(place)) best = std::min(best, cost);
    for (const Move& move : moves(place)) {
      double cost = move.paid;
      for (const Place& next : move.next) cost += least(next);
      best = std::min(best, cost);
    }
    return best;
  }

  [[nodiscard]] std::vector<double> every(const Place& place) const {
    std::vector<double> costs = ends(place);
    for (const Move& move : moves(place)) {
      std::vector<double> sums{move.paid};
      for (const Place& next : move.next) {
        std::vector<double> longer;
        for (const double tail : every(next)) {
          for (const double sum : sums) longer.push_back(sum + tail);
        }
        sums = std::move(longer);
      }
      costs.insert(costs.end(), sums.begin(), sums.end());
    }
    return costs;
  }

  const faultodds::TroubleshootingProblem& problem_;
};

}  // namespace faultodds_tests
