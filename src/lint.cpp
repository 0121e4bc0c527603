// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/model/lint.hpp"

#include <algorithm>
#include <iostream>
#include <memory>

#include "faultodds/io/model_file.hpp"
#include "program.hpp"
#include "report.hpp"
#include "text.hpp"

namespace faultodds::program {
namespace {

struct LintOptions {
  std::vector<std::string> files;
  bool strict = false;
  Format format = Format::text;
};

/// What was found in one file.
struct Checked {
  std::string file;
  std::vector<Remark> remarks;
  std::exception_ptr refused;  ///< set if the file holds no valid model
};

std::string severity_text(Severity severity) { return severity == Severity::warning ? "warning" : "note"; }

Checked check(const std::string& file) {
  Checked checked{file, {}, nullptr};
  try {
    checked.remarks = lint(read_model(file));
  } catch (const Error&) {
    checked.refused = std::current_exception();
  }
  return checked;
}

std::size_t count(const Checked& checked, Severity severity) {
  return static_cast<std::size_t>(
      std::count_if(checked.remarks.begin(), checked.remarks.end(),
                    [severity](const Remark& remark) { return remark.severity == severity; }));
}

/// The error that refused the file, as JSON.
Json refusal_json(const Checked& checked) {
  try {
    std::rethrow_exception(checked.refused);
  } catch (const Error& error) {
    return error_json(error);
  }
}

Json checked_json(const Checked& checked) {
  Json remarks = Json::array();
  for (const Remark& remark : checked.remarks) {
    remarks.push_back({{"severity", severity_text(remark.severity)},
                       {"place", remark.place},
                       {"found", remark.found},
                       {"remedy", remark.remedy}});
  }
  Json json = {{"file", checked.file}, {"valid", checked.refused == nullptr}, {"remarks", std::move(remarks)}};
  if (checked.refused) json["error"] = refusal_json(checked);
  return json;
}

void show(const Screen& screen, const Checked& checked) {
  if (checked.refused) {
    screen.text(checked.file + ": refused, the program cannot work with it");
    std::cout.flush();
    std::cerr << printable(refusal_json(checked).at("message").get<std::string>()) << '\n';
    return;
  }
  for (const Remark& remark : checked.remarks) {
    const std::string place = remark.place.empty() ? std::string() : remark.place + ": ";
    screen.item(severity_text(remark.severity),
                place + remark.found + (remark.remedy.empty() ? "" : "; " + remark.remedy), 0, 9);
  }
  const std::string summary = checked.remarks.empty() ? "nothing to remark"
                                                      : counted(count(checked, Severity::warning), "warning") + ", " +
                                                            counted(count(checked, Severity::note), "note");
  screen.text(checked.file + ": valid; " + summary);
}

bool is_at_fault(const Checked& checked, bool strict) {
  return checked.refused || (strict && count(checked, Severity::warning) > 0);
}

int lint_files(const LintOptions& options) {
  const Screen screen(std::cout, look_of_output());
  Json files = Json::array();
  bool at_fault_anywhere = false;
  for (const std::string& file : options.files) {
    const Checked checked = check(file);
    at_fault_anywhere = at_fault_anywhere || is_at_fault(checked, options.strict);
    if (options.format == Format::json) {
      files.push_back(checked_json(checked));
    } else {
      if (&file != &options.files.front()) screen.blank();
      show(screen, checked);
    }
  }
  if (options.format == Format::json) print({{"files", std::move(files)}});
  return at_fault_anywhere ? at_fault : fine;
}

}  // namespace

void add_lint(CLI::App& app, int& status) {
  auto options = std::make_shared<LintOptions>();
  CLI::App* command = app.add_subcommand("lint", "Explain what is wrong or doubtful in models")->group("Commands");
  command->add_option("FILE", options->files, "Fault models or networks")->required();
  command->add_flag("--strict", options->strict, "Warnings make the exit status 1");
  add_format(*command, options->format);
  command->footer(
      "Example:\n"
      "  faultodds lint models/low-power-petrol.json\n"
      "Exit status 1 if a file is refused; every problem of it is listed.");
  command->callback([options, &status] { status = guarded(options->format, [&] { return lint_files(*options); }); });
}

}  // namespace faultodds::program
