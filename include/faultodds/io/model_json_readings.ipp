// Readings of tests, from the document. Part of model_json_read.ipp.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "faultodds/io/json_fields.hpp"
#include "faultodds/io/network_tables.hpp"
#include "faultodds/model/variable.hpp"

namespace faultodds::detail {

/// Reads the member "reading" of a test whose states are known.
class ReadingReader {
 public:
  ReadingReader(const Variable& test, std::vector<Problem>& problems)
      : test_(test), problems_(problems), outcomes_(state_names(test)) {}

  [[nodiscard]] Reading read(const JsonAt& at) {
    Reading reading;
    JsonFields fields(at, problems_);
    fields.allow_only({"quantity", "unit", "difference", "limits", "spreads", "gauge_error", "same_instrument",
                       "at_least", "at_most", "source"});
    reading.quantity = fields.text("quantity");
    reading.unit = fields.text("unit");
    reading.difference = fields.flag("difference");
    reading.same_instrument = fields.flag("same_instrument");
    reading.at_least = fields.number("at_least");
    reading.at_most = fields.number("at_most");
    reading.source = fields.text("source");
    for (const JsonAt& element : fields.elements("limits")) {
      JsonFields limit(element, problems_);
      limit.allow_only({"outcome", "from", "below"});
      Band band{0, limit.number("from"), limit.number("below")};
      if (const auto outcome = outcome_of(limit)) {
        band.outcome = *outcome;
        reading.bands.push_back(band);
      }
    }
    const std::size_t before = problems_.size();
    for (const JsonAt& element : fields.elements("spreads")) {
      if (const auto spread = spread_at(element)) reading.spreads.push_back(*spread);
    }
    // That one is missing is worth saying only if all that are there could be read.
    if (problems_.size() > before) reading.spreads.clear();
    if (const JsonAt error = fields.member("gauge_error"); error.there()) reading.gauge_error = error_at(error);
    return reading;
  }

 private:
  [[nodiscard]] std::optional<std::size_t> outcome_of(const JsonFields& fields) {
    const JsonAt outcome = fields.needed("outcome", "an outcome of the test");
    const auto name = outcome.there() ? name_at(outcome, problems_) : std::nullopt;
    if (!name) return std::nullopt;
    const auto found = std::find(outcomes_.begin(), outcomes_.end(), *name);
    if (found != outcomes_.end()) return static_cast<std::size_t>(found - outcomes_.begin());
    add_problem(problems_, outcome.path, quoted(test_.name) + " has no outcome " + quoted(*name),
                nearest_remedy(*name, outcomes_, "name one of its states"));
    return std::nullopt;
  }

  [[nodiscard]] std::optional<GaugeError> error_at(const JsonAt& at) {
    if (at.value->is_number()) return GaugeError{at.value->get<double>(), 0.0};
    if (!at.value->is_object()) {
      wrong_type(at, "a number, in the unit of the reading, or an object with \"fixed\" and \"share\"", problems_);
      return std::nullopt;
    }
    const std::size_t before = problems_.size();
    JsonFields fields(at, problems_);
    fields.allow_only({"fixed", "share"});
    const GaugeError error{fields.number("fixed").value_or(0.0), fields.number("share").value_or(0.0)};
    return problems_.size() > before ? std::nullopt : std::optional(error);
  }

  /// Two numbers that must be there.
  template <class Shape>
  [[nodiscard]] std::optional<Shape> shape_at(const JsonAt& at, const char* first, const char* second) {
    JsonFields fields(at, problems_);
    if (!fields.is_object()) return std::nullopt;
    fields.allow_only({first, second});
    const JsonAt a = fields.needed(first, "a number");
    const JsonAt b = fields.needed(second, "a number");
    const auto number = [&](const JsonAt& one) { return one.there() ? number_at(one, problems_) : std::nullopt; };
    const auto x = number(a);
    const auto y = number(b);
    return x && y ? std::optional(Shape{*x, *y}) : std::nullopt;
  }

  [[nodiscard]] std::optional<Spread> spread_at(const JsonAt& element) {
    JsonFields fields(element, problems_);
    if (!fields.is_object()) return std::nullopt;
    fields.allow_only({"outcome", "normal", "lognormal", "uniform"});
    const auto outcome = outcome_of(fields);
    const JsonAt normal = fields.member("normal");
    const JsonAt lognormal = fields.member("lognormal");
    const JsonAt uniform = fields.member("uniform");
    if (normal.there() + lognormal.there() + uniform.there() != 1) {
      add_problem(problems_, element.path, "it takes exactly one of normal, lognormal and uniform",
                  "such as \"normal\": {\"mean\": 12.6, \"sd\": 0.2}");
      return std::nullopt;
    }
    std::optional<decltype(Spread::shape)> shape;
    if (normal.there()) shape = shape_at<NormalSpread>(normal, "mean", "sd");
    if (lognormal.there()) shape = shape_at<LognormalSpread>(lognormal, "median", "log_sd");
    if (uniform.there()) shape = shape_at<UniformSpread>(uniform, "from", "to");
    return outcome && shape ? std::optional(Spread{*outcome, *shape}) : std::nullopt;
  }

  const Variable& test_;
  std::vector<Problem>& problems_;
  std::vector<std::string> outcomes_;
};

}  // namespace faultodds::detail
