// Bodies of advice.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "faultodds/decision/evidence/evidence.hpp"
#include "faultodds/decision/evidence/evidence_of_test.hpp"
#include "faultodds/decision/evidence/evidence_words.hpp"
#include "faultodds/job/advice.hpp"
#include "faultodds/model/stable_order.hpp"

namespace faultodds {
namespace detail {

/// Whether a job can end at a cost that somebody named.
inline bool has_priced_end(const FaultModel& model, const EndCosts& ends) {
  const std::vector<HandOver>& all = model.parts().hand_overs;
  return ends.hand_over || ends.live_with || model.parts().live_with ||
         std::any_of(all.begin(), all.end(), [](const HandOver& one) { return one.money.has_value(); });
}

/// Works out one piece of advice.
class Adviser {
 public:
  Adviser(const Case& current, const AdviceOptions& options, const JobProgress& progress)
      : case_(current),
        model_(current.model()),
        rules_(options.rules),
        means_(options.means),
        ends_(options.ends),
        progress_(progress),
        describer_(case_, options.means) {
    for (const RepairIndex repair : progress.repairs_done) {
      static_cast<void>(element_at(model_.parts().repairs, repair, "repairs_done"));
    }
    for (const VariableIndex test : progress.declined) static_cast<void>(model_.variable(test));
  }

  [[nodiscard]] Advice advise() {
    rank();
    weigh();
    advice_.proposed = describe(leading_step());
    write_alternatives();
    write_facts();
    write_questions();
    write_brief();
    if (rules_.explain) explain();
    return std::move(advice_);
  }

 private:
  [[nodiscard]] bool is_left(VariableIndex test) const {
    return case_.finding_of(test) == nullptr && !has_revealed(case_, test) && !is_declined(test);
  }

  /// Tests to choose from that are neither done nor declined.
  [[nodiscard]] std::vector<VariableIndex> tests_left() const {
    const std::vector<VariableIndex>& wanted = rules_.ranking.tests;
    std::vector<VariableIndex> left = wanted.empty() ? model_.with_role(Role::test) : wanted;
    std::erase_if(left, [&](VariableIndex test) { return !is_left(test); });
    return left;
  }

  void rank() {
    Ranking& ranking = advice_.ranking;
    const bool none = rules_.ranking.tests.empty() && model_.with_role(Role::test).empty();
    if (!none || model_.parts().repairs.empty()) {
      ranking = rank_tests(case_, rules_.ranking, means_);
      std::erase_if(ranking.tests, [&](const TestForecast& forecast) { return is_declined(forecast.test); });
      return;
    }
    ranking.gain = rules_.ranking.gain;
    ranking.targets = rules_.ranking.targets.empty() ? faults_in_question(case_) : rules_.ranking.targets;
    ranking.leading = leading_faults(case_, ranking.targets, rules_.ranking.leading);
  }

  [[nodiscard]] bool is_declined(VariableIndex test) const {
    return std::find(progress_.declined.begin(), progress_.declined.end(), test) != progress_.declined.end();
  }

  void weigh() {
    if (!has_priced_end(model_, ends_) || !has_complaint(case_)) return;
    CaseProblemOptions wanted;
    wanted.hypotheses.components = rules_.ranking.targets;
    if (!allows_one_fault(case_, wanted.hypotheses.components))
      wanted.hypotheses.assumption = FaultAssumption::several_faults;
    wanted.tests = tests_left();
    if (wanted.tests.empty()) wanted.max_tests = 0;
    wanted.means = means_;
    wanted.repairs_done = progress_.repairs_done;
    wanted.ends = ends_;
    problem_ = problem_of(case_, wanted);
    weighing_ = weigh_steps(problem_.problem, start_of(problem_.problem), 2, case_.stop());
    advice_.priced = true;
  }

  [[nodiscard]] JobStep leading_step() {
    if (progress_.over) return NoStep{};
    if (is_to_be_asked()) return AskStep{opening_questions(case_)};
    if (advice_.priced && rules_.by_expected_cost) {
      if (const auto place = place_by_cost()) {
        advice_.led_by_cost = true;
        return step_of(weighing_.steps[*place]);
      }
    }
    if (!advice_.passed_over) {
      if (auto step = step_against_likely_fault()) return *std::move(step);
    }
    for (const TestForecast& forecast : advice_.ranking.tests) {
      if (forecast.gain_bits >= rules_.min_gain_bits && is_left(forecast.test)) return TestStep{forecast.test};
    }
    if (advice_.ranking.leading.empty()) return NoStep{NoStepReason::no_fault_in_question, {}};
    const FaultProbability& first = advice_.ranking.leading.front();
    return NoStep{NoStepReason::nothing_tells, Fault{first.component, first.state}};
  }

  [[nodiscard]] bool is_to_be_asked() const {
    const bool asked = std::any_of(progress_.passed_over.begin(), progress_.passed_over.end(),
                                   [](const JobStep& step) { return std::holds_alternative<AskStep>(step); });
    return !asked && !advice_.ranking.targets.empty() && !has_complaint(case_) && !open_complaints(case_).empty();
  }

  /// The place of the step that leads among those weighed; nothing if it was passed over and no test is left.
  [[nodiscard]] std::optional<std::size_t> place_by_cost() {
    const JobStep first = step_of(weighing_.steps[weighing_.proposed]);
    if (!is_passed_over(first)) return weighing_.proposed;
    advice_.passed_over = first;
    std::vector<PricedStep> tests;
    std::vector<std::size_t> places;
    for (std::size_t i = 0; i < weighing_.steps.size(); ++i) {
      if (weighing_.steps[i].step.kind != StepKind::test) continue;
      tests.push_back(weighing_.steps[i]);
      places.push_back(i);
    }
    return tests.empty() ? std::nullopt : std::optional(places[proposed_among(tests)]);
  }

  [[nodiscard]] JobStep step_of(const PricedStep& priced) const {
    switch (priced.step.kind) {
      case StepKind::test:
        return TestStep{problem_.tests.at(priced.step.index)};
      case StepKind::repair:
        return RepairStep{problem_.repairs.at(priced.step.index)};
      case StepKind::hand_over:
        return HandOverStep{problem_.hand_over};
      default:
        return LiveWithStep{};
    }
  }

  [[nodiscard]] bool is_passed_over(const JobStep& step) const {
    const std::vector<JobStep>& passed = progress_.passed_over;
    return std::find(passed.begin(), passed.end(), step) != passed.end();
  }

  /// The first fault that is certain enough and was not passed over, and what to do about it.
  [[nodiscard]] std::optional<JobStep> step_against_likely_fault() {
    std::vector<VariableIndex> components = model_.with_role(Role::component);
    if (components.empty()) components = rules_.ranking.targets;
    for (const FaultProbability& fault : leading_faults(case_, components, std::numeric_limits<std::size_t>::max())) {
      if (!(fault.probability > rules_.min_fault_probability)) break;
      JobStep step = step_against({fault.component, fault.state});
      if (is_passed_over(step)) continue;
      advice_.likely = advised({fault.component, fault.state}, fault.probability);
      return step;
    }
    return std::nullopt;
  }

  [[nodiscard]] JobStep step_against(const Fault& fault) const {
    if (is_remainder(model_.variable(fault.component))) return HandOverStep{cheapest_hand_over()};
    const std::vector<RepairIndex> repairs = repairs_of(fault);
    if (!repairs.empty()) return RepairStep{repairs.front()};
    const std::vector<Repair>& all = model_.parts().repairs;
    const bool is_beyond = std::any_of(all.begin(), all.end(),
                                       [&](const Repair& one) { return can_mend(one, fault.component, fault.state); });
    return NoStep{is_beyond ? NoStepReason::beyond_means : NoStepReason::no_repair, fault};
  }

  /// Within the means, in the order of the model.
  [[nodiscard]] std::vector<RepairIndex> repairs_of(const Fault& fault) const {
    std::vector<RepairIndex> found;
    const std::vector<Repair>& all = model_.parts().repairs;
    for (std::size_t r = 0; r < all.size(); ++r) {
      const bool mends = can_mend(all[r], fault.component, fault.state);
      if (mends && describer_.why_beyond(all[r].work).empty()) found.push_back(r);
    }
    return found;
  }

  [[nodiscard]] std::optional<std::size_t> cheapest_hand_over() const {
    const std::vector<HandOver>& all = model_.parts().hand_overs;
    const auto money = [](const HandOver& one) { return one.money.value_or(std::numeric_limits<double>::infinity()); };
    const auto cheapest = std::min_element(
        all.begin(), all.end(), [&](const HandOver& one, const HandOver& other) { return money(one) < money(other); });
    return cheapest == all.end() ? std::nullopt : std::optional(static_cast<std::size_t>(cheapest - all.begin()));
  }

  /// With price and gain where they are known.
  [[nodiscard]] AdvisedStep describe(const JobStep& step) const {
    AdvisedStep made = unpriced(step);
    if (!advice_.priced) return made;
    const auto priced = std::find_if(weighing_.steps.begin(), weighing_.steps.end(),
                                     [&](const PricedStep& one) { return step_of(one) == step; });
    if (priced == weighing_.steps.end()) return made;
    made.price = StepPrice{priced->step_cost, priced->expected_cost, priced->saves, priced->gain_bits};
    if (std::holds_alternative<HandOverStep>(step)) {
      made.cost_known = true;
      made.money = problem_.problem.ends.hand_over.value();
      made.cost = made.money;
      made.charges_repair = !problem_.problem.repair_elsewhere.empty();
    }
    return made;
  }

  [[nodiscard]] AdvisedStep unpriced(const JobStep& step) const {
    if (const auto* test = std::get_if<TestStep>(&step)) {
      const std::vector<TestForecast>& ranked = advice_.ranking.tests;
      const auto forecast =
          std::find_if(ranked.begin(), ranked.end(), [&](const TestForecast& one) { return one.test == test->test; });
      if (forecast != ranked.end()) return describer_.describe(*forecast, advice_.ranking);
    }
    return describer_.describe(step);
  }

  void write_alternatives() {
    std::vector<JobStep> steps;
    if (advice_.priced) {
      for (const PricedStep& priced : weighing_.steps) steps.push_back(step_of(priced));
    }
    for (const TestForecast& forecast : advice_.ranking.tests) {
      if (is_left(forecast.test)) add(steps, TestStep{forecast.test});
    }
    if (advice_.likely) {
      for (const RepairIndex repair : repairs_of(advice_.likely->fault)) add(steps, RepairStep{repair});
    }
    for (const JobStep& step : steps) {
      if (step == advice_.proposed.step) {
        if (advice_.proposed.price) advice_.cheaper = advice_.alternatives.size();
      } else {
        advice_.alternatives.push_back(describe(step));
      }
    }
  }

  static void add(std::vector<JobStep>& steps, const JobStep& step) {
    if (std::find(steps.begin(), steps.end(), step) == steps.end()) steps.push_back(step);
  }

  [[nodiscard]] AdvisedFault advised(const Fault& fault, double probability) const {
    return {fault, claim_in_words(model_, {fault.component, {fault.state}}), probability};
  }

  void write_facts() {
    for (const FaultProbability& fault : advice_.ranking.leading)
      advice_.leading.push_back(advised({fault.component, fault.state}, fault.probability));
    for (const Finding& finding : case_.findings()) {
      const bool known = model_.variable(finding.variable).role() == Role::component && finding.state.value_or(0) > 0;
      if (known) advice_.known.push_back(advised({finding.variable, *finding.state}, 1.0));
    }
    for (const LeftOut& left : advice_.ranking.left_out) {
      const Variable& test = model_.variable(left.test);
      const auto gain = std::isnan(left.gain_bits) ? std::nullopt : std::optional(left.gain_bits);
      advice_.left_out.push_back({left.test, test.name, shown(test), left.reason, gain});
    }
    sort_stably(advice_.left_out, [](const AdvisedLeftOut& one, const AdvisedLeftOut& other) {
      return one.gain_bits.value_or(0.0) > other.gain_bits.value_or(0.0);
    });
    advice_.currency = model_.header().currency;
    advice_.safety = model_.header().safety;
    advice_.invented = model_.header().invented;
  }

  void write_questions() {
    if (rules_.max_questions == 0 || advice_.ranking.targets.empty()) return;
    RankOptions wanted = rules_.ranking;
    wanted.tests = questions_to_ask();
    if (wanted.tests.empty()) return;
    wanted.targets = advice_.ranking.targets;
    wanted.gain = advice_.ranking.gain;
    wanted.joint_only = true;
    wanted.by = RankBy::gain;
    wanted.effects = false;
    for (const TestForecast& forecast : rank_tests(case_, wanted, means_).tests) {
      if (advice_.questions.size() == rules_.max_questions || forecast.gain_bits < rules_.min_gain_bits) break;
      const Variable& open = model_.variable(forecast.test);
      advice_.questions.push_back({forecast.test, open.name, shown(open), asked(open), forecast.gain_bits});
    }
  }

  /// Facts and symptoms without a finding that need no tool: neither stored trouble codes nor what a test reveals.
  [[nodiscard]] std::vector<VariableIndex> questions_to_ask() const {
    std::vector<bool> revealed(model_.size(), false);
    for (const Variable& variable : model_.variables()) {
      for (const VariableIndex symptom : as_test(variable).reveals) revealed[symptom] = true;
    }
    std::vector<VariableIndex> open;
    for (std::size_t v = 0; v < model_.size(); ++v) {
      const Variable& variable = model_.variable(v);
      const auto* symptom = std::get_if<Symptom>(&variable.what);
      const bool is_asked = symptom != nullptr ? symptom->code.empty() : variable.role() == Role::context;
      if (is_asked && !revealed[v] && case_.finding_of(v) == nullptr) open.push_back(v);
    }
    return open;
  }

  void write_brief() {
    constexpr double ruled_out = 0.01;
    SpecialistBrief& brief = advice_.brief;
    for (const Finding& finding : case_.findings()) brief.found.push_back(finding_in_words(model_, finding));
    const Case at_start = before_any_work();
    const StopScope scope(at_start, case_.stop());
    for (const FaultProbability& fault :
         leading_faults(case_, model_.with_role(Role::component), std::numeric_limits<std::size_t>::max())) {
      const AdvisedFault one = advised({fault.component, fault.state}, fault.probability);
      if (fault.probability >= ruled_out) {
        brief.left.push_back(one);
      } else if (at_start.posterior(fault.component)[fault.state] >= ruled_out) {
        brief.ruled_out.push_back(one);
      }
    }
  }

  /// With the facts and symptoms that were found before the first test.
  [[nodiscard]] Case before_any_work() const {
    const std::vector<Finding>& findings = case_.findings();
    const auto first = std::find_if(findings.begin(), findings.end(), [&](const Finding& finding) {
      const Role role = model_.variable(finding.variable).role();
      return role != Role::context && role != Role::symptom;
    });
    Case start = case_;
    start.take_back_to(static_cast<std::size_t>(first - findings.begin()));
    return start;
  }

  void explain() {
    if (const auto* test = std::get_if<TestStep>(&advice_.proposed.step)) {
      const TestContrast found = contrast(case_, test->test, advice_.ranking.leading);
      add_paragraph(explain_in_words(model_, found));
    }
    if (case_.findings().empty() || advice_.ranking.leading.empty()) return;
    const FaultProbability& first = advice_.ranking.leading.front();
    add_paragraph(explain_in_words(case_, weigh_evidence(case_, {first.component, {first.state}})));
    add_paragraph(explain_in_words(case_, conflict(case_)));
  }

  void add_paragraph(std::string text) {
    if (!text.empty()) advice_.why.push_back(std::move(text));
  }

  const Case& case_;
  const FaultModel& model_;
  const AdviceRules& rules_;
  const Means& means_;
  const EndCosts& ends_;
  const JobProgress& progress_;
  StepDescriber describer_;
  CaseProblem problem_;  // if advice_.priced
  Weighing weighing_;
  Advice advice_;
};

}  // namespace detail

inline Advice advise(const Case& current, const AdviceOptions& options, const JobProgress& progress, const Stop& stop) {
  const StopScope scope(current, stop);
  return detail::Adviser(current, options, progress).advise();
}

}  // namespace faultodds
