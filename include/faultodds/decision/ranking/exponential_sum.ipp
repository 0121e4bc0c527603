// Body of exponential_sum.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <cstddef>

#include "faultodds/decision/ranking/exponential_sum.hpp"

namespace faultodds {
namespace detail {

/// Points and weights of a discrete measure.
struct DiscreteMeasure {
  Eigen::ArrayXd points;
  Eigen::ArrayXd weights;
};

/// 1 / (k (k - 1)) on the integers first <= k < end. Beyond some thousands of points each run of them is gathered in
/// its middle with its whole weight.
inline DiscreteMeasure panel_measure(double first, double end) {
  static constexpr double max_points = 4096.0;
  const auto count = static_cast<Eigen::Index>(std::min(end - first, max_points));
  const double run = (end - first) / static_cast<double>(count);
  DiscreteMeasure measure{Eigen::ArrayXd(count), Eigen::ArrayXd(count)};
  for (Eigen::Index i = 0; i < count; ++i) {
    const double begin = first + run * static_cast<double>(i);
    measure.weights[i] = 1.0 / (begin - 1.0) - 1.0 / (begin + run - 1.0);  // telescoping sum over the run
    measure.points[i] = begin + 0.5 * (run - 1.0);
  }
  return measure;
}

/// The Gauss rule with `size` points of a discrete measure. The Jacobi matrix is tridiagonal already, and is solved as
/// such: the solver for any symmetric matrix takes seconds to compile.
inline std::vector<PowerTerm> gauss_rule(const DiscreteMeasure& measure, Eigen::Index size) {
  const double total = measure.weights.sum();
  Eigen::VectorXd diagonal(size);
  Eigen::VectorXd beside(size - 1);
  Eigen::ArrayXd before = Eigen::ArrayXd::Zero(measure.points.size());
  Eigen::ArrayXd now = Eigen::ArrayXd::Constant(measure.points.size(), 1.0 / std::sqrt(total));
  double link = 0.0;
  for (Eigen::Index i = 0; i < size; ++i) {
    const double centre = (measure.weights * measure.points * now * now).sum();
    diagonal[i] = centre;
    Eigen::ArrayXd next = (measure.points - centre) * now - link * before;
    link = std::sqrt((measure.weights * next * next).sum());
    if (i + 1 < size) beside[i] = link;
    before = now;
    now = next / link;
  }
  double scale = 0.0;
  for (const double entry : diagonal) scale = std::max(scale, std::abs(entry));
  for (const double entry : beside) scale = std::max(scale, std::abs(entry));
  for (double& entry : diagonal) entry /= scale;
  for (double& entry : beside) entry /= scale;
  Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver(size);
  solver.computeFromTridiagonal(diagonal, beside);
  std::vector<PowerTerm> rule;
  for (Eigen::Index i = 0; i < size; ++i) {
    const double root = solver.eigenvectors()(0, i);
    rule.push_back({solver.eigenvalues()[i] * scale, total * root * root});
  }
  return rule;
}

/// Points that keep a panel's rule within `error`, if the panel counts at most `counts`. Measured: a rule with n
/// points is off by at most 0.3 / first x 10^-n, and by less if r^first is small (EntropyTermsAddUpToTheLogarithm
/// checks).
inline std::size_t points_for(double first, double counts, double error) {
  const double plateau = std::log10(0.3 / (first * error));
  const double small = 4.0 + 2.0 * std::log10(counts / error);
  return static_cast<std::size_t>(std::ceil(std::clamp(std::min(plateau, small), 2.0, 12.0)));
}

}  // namespace detail

inline std::vector<PowerTerm> EntropyTerms::up_to(double largest) {
  static constexpr double error = 7e-12;
  static constexpr double first_panel = 8.0;
  static constexpr double growth = 4.0;
  std::vector<PowerTerm> terms;
  for (double k = 2.0; k < first_panel && std::pow(largest, k) > error; k += 1.0) {
    terms.push_back({k, 1.0 / (k * (k - 1.0))});
  }
  for (double first = first_panel;; first *= growth) {
    const double counts = std::pow(largest, first) / first;  // the whole panel, at most
    if (counts <= error) break;
    const std::size_t points = detail::points_for(first, counts, error);
    std::vector<PowerTerm>& rule = rules_[{first, points}];
    if (rule.empty()) {
      rule = detail::gauss_rule(detail::panel_measure(first, growth * first), static_cast<Eigen::Index>(points));
    }
    terms.insert(terms.end(), rule.begin(), rule.end());
  }
  return terms;
}

inline std::vector<PowerTerm> entropy_terms(double largest) { return EntropyTerms().up_to(largest); }

}  // namespace faultodds
