// SPDX-License-Identifier: BSD-3-Clause
#include "advice.hpp"

#include <algorithm>
#include <cmath>

#include "findings.hpp"

namespace faultodds::program {
namespace {

std::string band_text(const Band& band, const std::string& unit, const std::string& outcome) {
  const std::string after = unit.empty() ? std::string() : ' ' + unit;
  std::string range = "any value";
  if (band.from && band.below)
    range = "from " + number(*band.from, 4) + " to below " + number(*band.below, 4) + after;
  else if (band.below)
    range = "below " + number(*band.below, 4) + after;
  else if (band.from)
    range = number(*band.from, 4) + after + " and above";
  return range + ": " + outcome;
}

std::string spread_text(const Spread& spread, const std::string& unit, const std::string& outcome) {
  const std::string after = unit.empty() ? std::string() : ' ' + unit;
  const auto* const normal = std::get_if<NormalSpread>(&spread.shape);
  const auto* const lognormal = std::get_if<LognormalSpread>(&spread.shape);
  if (normal != nullptr)
    return "about " + number(normal->mean, 4) + " +- " + number(normal->sd, 4) + after + ": " + outcome;
  if (lognormal != nullptr)
    return "about " + number(lognormal->median, 4) + after + ", up to a factor of " +
           number(std::exp(lognormal->log_sd), 2) + " off: " + outcome;
  const auto& even = std::get<UniformSpread>(spread.shape);
  return "anything from " + number(even.from, 4) + " to " + number(even.to, 4) + after + ": " + outcome;
}

/// What each outcome reads: by limits, or by spreads where there are none.
std::vector<std::string> outcome_texts(const Variable& test, const Reading& reading) {
  std::vector<std::string> texts;
  for (const Band& band : reading.bands)
    texts.push_back(band_text(band, reading.unit, shown(test.states.at(band.outcome))));
  if (!texts.empty()) return texts;
  for (const Spread& spread : reading.spreads)
    texts.push_back(spread_text(spread, reading.unit, shown(test.states.at(spread.outcome))));
  return texts;
}

bool has_cost(const FaultModel& model, const TestForecast& forecast) {
  const Work& work = as_test(model.variable(forecast.test)).work;
  return work.minutes || work.money || !work.by_context.empty() || !forecast.opens.empty() || !forecast.brings.empty();
}

}  // namespace

std::string span_of_time(double minutes) {
  constexpr double hour = 60.0, day = 24.0 * hour;
  if (minutes >= 2.0 * day) return number(minutes / day, 1) + " days";
  if (minutes >= 2.0 * hour) return number(minutes / hour, 1) + " h";
  return number(minutes, 0) + " min";
}

void show_reading(const Screen& screen, const Variable& test) {
  const std::optional<Reading>& reading = as_test(test).reading;
  if (!reading) return;
  screen.item("Reading", reading->quantity + "; " + joined(outcome_texts(test, *reading), "; "));
  if (!reading->source.empty()) screen.item("", "(limits: " + reading->source + ')');
}

void show_who_decides(const Screen& screen) {
  screen.text(
      "Whether and how to repair is decided by the vehicle maker's service information, by local codes and by licensed "
      "practice, not by this program.");
}

double share_settled(const Ranking& ranking, const TestForecast& forecast) {
  return ranking.entropy_bits > 0.0 ? std::clamp(forecast.gain_bits / ranking.entropy_bits, 0.0, 1.0) : 0.0;
}

std::string fault_text(const FaultModel& model, VariableIndex component, StateIndex state) {
  const Variable& variable = model.variable(component);
  return shown(variable) + ": " + shown(variable.states.at(state));
}

void show_header(const Screen& screen, const FaultModel& model) {
  const Header& header = model.header();
  const std::string title = header.title.empty() ? header.name : header.title;
  if (!title.empty()) screen.text(title + (header.version.empty() ? "" : ", version " + header.version));
  if (header.invented) {
    screen.text("INVENTED DATA: the numbers of this model are made up and must be tuned before any real use.");
  }
  if (!header.safety.empty()) screen.text("SAFETY: " + header.safety);
  const bool says_who_decides = header.safety.find("service information") != std::string::npos;
  if (!says_who_decides && !model.with_role(Role::component).empty()) {
    screen.text("The vehicle maker's service information comes first; this is advice only.");
  }
}

void show_findings(const Screen& screen, const FaultModel& model, std::span<const Finding> findings) {
  if (findings.empty()) {
    screen.heading("Nothing was found yet");
    return;
  }
  screen.heading("Found so far");
  for (const Finding& finding : findings) {
    screen.text(shown(model.variable(finding.variable)) + ": " + finding_text(model, finding), 2, 2);
  }
}

void show_findings(const Screen& screen, const Case& current) {
  show_findings(screen, current.model(), current.findings());
}

void show_leading(const Screen& screen, const FaultModel& model, const Ranking& ranking) {
  std::size_t faults = 0;
  for (const VariableIndex target : ranking.targets) faults += model.state_count(target) - 1;
  screen.heading("Leading faults (of " + std::to_string(faults) + " in question)");
  std::vector<BarRow> rows;
  for (const FaultProbability& fault : ranking.leading) {
    rows.push_back({fault_text(model, fault.component, fault.state), fault.probability, {}});
  }
  screen.bars(rows);
  if (rows.size() > 1) screen.text("Each figure stands by itself: more than one fault may be present.", 2);
}

void show_tests(const Screen& screen, const FaultModel& model, const Ranking& ranking, std::size_t most,
                std::optional<std::size_t> except) {
  std::vector<std::vector<std::string>> rows = {{"#", "test", "settles", "bits", "min", "cost"}};
  for (std::size_t i = 0; i < std::min(ranking.tests.size(), most); ++i) {
    const TestForecast& forecast = ranking.tests[i];
    if (forecast.test == except) continue;
    const bool known = has_cost(model, forecast);
    rows.push_back({std::to_string(i + 1), shown(model.variable(forecast.test)),
                    percent(share_settled(ranking, forecast)), fixed(forecast.gain_bits, 3),
                    known ? number(forecast.minutes, 0) : "-",
                    known ? money(forecast.cost, model.header().currency) : "-"});
  }
  if (rows.size() > 1) screen.table(rows, 1);
}

}  // namespace faultodds::program
