// SPDX-License-Identifier: BSD-3-Clause
#include "case_report.hpp"

#include <algorithm>
#include <filesystem>
#include <utility>

#include "advice.hpp"
#include "bench.hpp"

namespace faultodds::program {
namespace {

/// Tests not done that a report lists, those that tell most for their cost.
constexpr std::size_t max_open_tests = 12;

template <class Named>
std::string label_of(const std::vector<Named>& all, const std::string& name) {
  const auto found = std::find_if(all.begin(), all.end(), [&](const Named& one) { return one.name == name; });
  return found == all.end() || found->label.empty() ? name : found->label;
}

/// Goes through a log step by step, with the case as it was before each.
class ReportWriter {
 public:
  ReportWriter(const CaseLog& log, const Means& means, const Ranking& ranking)
      : log_(log),
        means_(means),
        ranking_(ranking),
        replay_(Case(log.started_with())),
        in_place_(in_place_in(replay_.current(), means)) {}

  /// The steps alone.
  [[nodiscard]] std::vector<ReportStep> write_steps() {
    for (const Step& step : log_.steps()) write_step(step);
    return std::move(report_.steps);
  }

  JobReport write() {
    write_header();
    for (const Step& step : log_.steps()) write_step(step);
    write_faults();
    write_open_tests();
    write_conclusion();
    write_hand_over();
    return std::move(report_);
  }

 private:
  void write_header() {
    const Header& header = log_.model().header();
    report_.title = header.title.empty() ? header.name : header.title;
    report_.version = header.version;
    report_.invented = header.invented;
    report_.safety = header.safety;
    report_.currency = header.currency;
    report_.labour_rate = means_.labour_rate.value_or(header.labour_rate);
    start_ = replay_.current();
  }

  void write_step(const Step& step) {
    if (step.hand_over) return write_hand_over_step(step);
    const FaultModel& model = log_.model();
    const Role role = step.repair ? Role::unclassified : model.variable(step.variable).role;
    const JobFact fact{step_label(model, step), answer_text(model, step)};
    if (step.repair) {
      write_work(ReportStepKind::repair, model.parts().repairs.at(*step.repair).work, fact);
      write_check(*step.repair);
    } else if (!step.reason.empty()) {
      declined_.push_back(step);
    } else if (role == Role::test) {
      write_work(ReportStepKind::test, model.variable(step.variable).work, fact);
    } else {
      (role == Role::context ? report_.vehicle : report_.complaint).push_back(fact);
    }
    redo(step);
    if (report_.steps.empty()) start_ = replay_.current();
  }

  /// The fee is paid; what the repair there costs is not known yet.
  void write_hand_over_step(const Step& step) {
    const HandOver& to = log_.model().parts().hand_overs.at(*step.hand_over);
    ReportStep done;
    done.kind = ReportStepKind::hand_over;
    done.label = "handed over to " + step_label(log_.model(), step);
    done.wait_minutes = to.wait_minutes.value_or(0.0);
    done.money = to.money.value_or(0.0);
    if (to.repair) done.note = "The repair there is charged on top.";
    report_.steps.push_back(std::move(done));
    handed_over_ = step.hand_over;
  }

  void write_work(ReportStepKind kind, const Work& work, const JobFact& fact) {
    const FaultModel& model = replay_.model();
    const WorkCost cost = cost_of(replay_.current(), work, in_place_, means_.labour_rate);
    ReportStep step;
    step.kind = kind;
    step.label = fact.label;
    step.found = fact.value;
    for (const std::string& name : cost.opens) step.first.push_back(label_of(model.parts().access, name));
    for (const std::string& name : cost.brings) step.first.push_back(label_of(model.parts().conditions, name));
    step.minutes = cost.minutes;
    step.wait_minutes = cost.wait_minutes;
    step.money = cost.money;
    step.labour = cost.cost - cost.money;
    report_.steps.push_back(std::move(step));
    add_cautions(faultodds::cautions_of(model, work, cost));
    in_place_ = after_work(model, std::move(in_place_), cost);
  }

  /// The check is paid where it was made; its outcome stands with the repair.
  void write_check(std::size_t repair) {
    const Repair& what = log_.model().parts().repairs.at(repair);
    const std::optional<RepairCheck>& check = what.verification ? what.verification : log_.model().parts().verification;
    if (!check || report_.steps.back().found == "done, not checked") return;
    const std::string found = report_.steps.back().found;
    report_.steps.back().found = "done";
    write_work(ReportStepKind::other, check->work,
               {check->label.empty() ? "check after the repair" : check->label, found.substr(found.find("; ") + 2)});
  }

  void add_cautions(const std::vector<std::string>& names) {
    for (const std::string& name : names) {
      const Term* term = find_term(log_.model().parts().cautions, name);
      ReportCaution caution{term == nullptr || term->label.empty() ? name : term->label,
                            term == nullptr ? std::string() : term->description};
      std::vector<ReportCaution>& all = report_.cautions;
      if (std::find(all.begin(), all.end(), caution) == all.end()) all.push_back(std::move(caution));
    }
  }

  void redo(const Step& step) {
    if (step.repair) {
      const auto said = step.finding ? step.finding->state : std::nullopt;
      replay_.record_repair(*step.repair, said);
    } else if (step.finding) {
      replay_.record(*step.finding, step.reading);
    } else if (!step.revealed.empty()) {
      replay_.record_revealed(step.variable, step.revealed);
    }
  }

  void write_faults() {
    const FaultModel& model = log_.model();
    for (const std::size_t component : model.with_role(Role::component)) {
      const std::vector<double> now = log_.current().posterior(component);
      const std::vector<double> before = start_->posterior(component);
      for (std::size_t s = 1; s < now.size(); ++s)
        report_.faults.push_back({fault_text(model, component, s), now[s], before[s]});
    }
  }

  void write_open_tests() {
    const FaultModel& model = log_.model();
    for (const TestForecast& forecast : ranking_.tests) {
      const bool declined = std::any_of(declined_.begin(), declined_.end(),
                                        [&](const Step& step) { return step.variable == forecast.test; });
      if (declined || forecast.gain_bits < 1e-3 || report_.open_tests.size() == max_open_tests) continue;
      report_.open_tests.push_back({shown(model.variable(forecast.test)),
                                    share_settled(ranking_, forecast),
                                    forecast.minutes,
                                    forecast.money,
                                    forecast.cost - forecast.money,
                                    {}});
    }
    for (const Step& step : declined_) {
      const WorkCost cost = cost_of(log_.current(), model.variable(step.variable).work, in_place_, means_.labour_rate);
      report_.open_tests.push_back(
          {shown(model.variable(step.variable)), 0.0, cost.minutes, cost.money, cost.cost - cost.money, step.reason});
    }
  }

  [[nodiscard]] bool cured() const {
    const std::vector<Step>& steps = log_.steps();
    const auto last =
        std::find_if(steps.rbegin(), steps.rend(), [](const Step& step) { return step.repair.has_value(); });
    return last != steps.rend() && last->finding && last->finding->state == 0;
  }

  void write_conclusion() {
    if (cured()) {
      const auto last = std::find_if(log_.steps().rbegin(), log_.steps().rend(),
                                     [](const Step& step) { return step.repair.has_value(); });
      const std::size_t complaint = log_.model().parents(last->variable).front();
      report_.conclusion = "After the last repair the check says that the complaint is gone; it is so with " +
                           percent(log_.current().posterior(complaint)[0]) + '.';
      return;
    }
    const std::string where = handed_over_ ? "The vehicle was handed over. " : "";
    const std::vector<std::size_t> known = known_faults(log_.current());
    if (!known.empty()) {
      std::vector<std::string> faults;
      for (const std::size_t component : known) {
        faults.push_back(fault_text(log_.model(), component, log_.current().finding_of(component)->state.value()));
      }
      report_.conclusion = where + "Found: " + joined(faults, "; ") + ". The complaint is not settled.";
      return;
    }
    if (ranking_.leading.empty()) {
      report_.conclusion = where + "No fault is in question.";
      return;
    }
    const FaultProbability& first = ranking_.leading.front();
    report_.conclusion = where + "Most likely: " + fault_text(log_.model(), first.component, first.state) + ", " +
                         percent(first.probability) + ". The complaint is not settled.";
  }

  void write_hand_over() {
    const std::vector<HandOver>& all = log_.model().parts().hand_overs;
    if (cured() || all.empty()) return;
    const auto cheapest = std::min_element(all.begin(), all.end(), [](const HandOver& a, const HandOver& b) {
      return a.money.value_or(1e300) < b.money.value_or(1e300);
    });
    const HandOver& chosen = handed_over_ ? all.at(*handed_over_) : *cheapest;
    ReportHandOver to{label_or_name(chosen), chosen.money, chosen.wait_minutes, {}};
    if (!chosen.tells.empty()) to.what_to_tell.push_back("They can: " + chosen.tells);
    if (chosen.repair) to.what_to_tell.emplace_back("The repair is charged on top of the fee.");
    report_.hand_over = std::move(to);
  }

  const CaseLog& log_;
  const Means& means_;
  const Ranking& ranking_;
  CaseLog replay_;
  InPlace in_place_;
  std::optional<Case> start_;  // once the complaint is known, before anything was done
  std::vector<Step> declined_;
  std::optional<std::size_t> handed_over_;
  JobReport report_;
};

}  // namespace

JobReport report_of(const CaseLog& log, const Means& means, const Ranking& ranking) {
  return ReportWriter(log, means, ranking).write();
}

Spent spent_on(const CaseLog& log, const Means& means) {
  Spent spent;
  for (const ReportStep& step : ReportWriter(log, means, {}).write_steps()) {
    spent.cost += step.money + step.labour;
    spent.minutes += step.minutes + step.wait_minutes;
  }
  return spent;
}

std::optional<std::string> written_report(const CaseLog& log, const Means& means, const Ranking& ranking,
                                          const std::string& file) {
  const std::string ending = lower_case(std::filesystem::path(file).extension().string());
  const JobReport report = report_of(log, means, ranking);
  if (ending == ".md") return write_report_markdown(report);
  if (ending == ".html") return write_report_html(report);
  if (ending == ".json") return write_report_json(report);
  return std::nullopt;
}

}  // namespace faultodds::program
