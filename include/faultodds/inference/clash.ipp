// Body of smallest_clash (case.hpp).
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cmath>
#include <vector>

#include "faultodds/inference/case.hpp"

namespace faultodds {
namespace detail {

class ClashSearch {
 public:
  ClashSearch(const Solver& solver, std::span<const Finding> findings, const Stop& stop)
      : solver_(solver), findings_(findings), stop_(stop) {}

  [[nodiscard]] bool possible(const std::vector<std::size_t>& chosen) const {
    std::vector<Finding> subset;
    subset.reserve(chosen.size());
    for (const std::size_t index : chosen) subset.push_back(findings_[index]);
    return std::isfinite(log_evidence_of(solver_, subset, stop_));
  }

  /// A clash no member of which can be spared: halves are dropped first, then single findings.
  [[nodiscard]] std::vector<std::size_t> irreducible() const {
    std::vector<std::size_t> clash;
    for (std::size_t i = 0; i < findings_.size(); ++i) clash.push_back(i);
    for (std::size_t run = clash.size() / 2; run >= 1; run /= 2) {
      for (std::size_t begin = 0; begin < clash.size();) {
        std::vector<std::size_t> rest(clash.begin(), clash.begin() + static_cast<std::ptrdiff_t>(begin));
        const std::size_t end = std::min(clash.size(), begin + run);
        rest.insert(rest.end(), clash.begin() + static_cast<std::ptrdiff_t>(end), clash.end());
        if (possible(rest)) {
          begin = end;
        } else {
          clash = std::move(rest);
        }
      }
    }
    return clash;
  }

  /// A clash of exactly `size` findings, the first in order; empty if there is none.
  [[nodiscard]] std::vector<std::size_t> of_size(std::size_t size) const {
    std::vector<std::size_t> chosen;
    return extend(chosen, 0, size) ? chosen : std::vector<std::size_t>{};
  }

 private:
  bool extend(std::vector<std::size_t>& chosen, std::size_t from, std::size_t size) const {
    if (chosen.size() == size) return !possible(chosen);
    for (std::size_t i = from; i < findings_.size(); ++i) {
      chosen.push_back(i);
      if (extend(chosen, i + 1, size)) return true;
      chosen.pop_back();
    }
    return false;
  }

  const Solver& solver_;
  std::span<const Finding> findings_;
  const Stop& stop_;
};

}  // namespace detail

inline std::vector<std::size_t> smallest_clash(const Solver& solver, std::span<const Finding> findings,
                                               const Stop& stop) {
  static constexpr double max_sets = 5000.0;
  detail::check_findings(solver.model(), findings);
  const detail::ClashSearch search(solver, findings, stop);
  std::vector<std::size_t> all;
  for (std::size_t i = 0; i < findings.size(); ++i) all.push_back(i);
  if (search.possible(all) || !search.possible({})) return {};
  std::vector<std::size_t> clash = search.irreducible();
  double sets = 1.0;
  for (std::size_t size = 1; size < clash.size() && size <= 3; ++size) {
    sets *= static_cast<double>(findings.size() - size + 1) / static_cast<double>(size);
    if (sets > max_sets) break;
    std::vector<std::size_t> smaller = search.of_size(size);
    if (!smaller.empty()) return smaller;
  }
  return clash;
}

}  // namespace faultodds
