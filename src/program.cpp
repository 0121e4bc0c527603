// SPDX-License-Identifier: BSD-3-Clause
#include "program.hpp"

#include <poll.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <iostream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "faultodds/model/names.hpp"
#include "report.hpp"
#include "text.hpp"

namespace faultodds::program {
namespace {

/// Help that stays within 80 columns.
class Help : public CLI::Formatter {
 public:
  Help() {
    column_width(option_column);
    label("SUBCOMMAND", "COMMAND");
    label("REQUIRED", "");
    label("TEXT", "");
  }

  std::string make_option_desc(const CLI::Option* option) const override {
    return wrapped(CLI::Formatter::make_option_desc(option), 80 - option_column);
  }
  std::string make_subcommand(const CLI::App* command) const override {
    std::stringstream text;
    CLI::detail::format_help(text, command->get_name(), wrapped(command->get_description(), 80 - option_column),
                             option_column);
    return text.str();
  }

 private:
  static constexpr std::size_t option_column = 28;
};

/// The option of the command that this argument names; null if it names none.
const CLI::Option* option_named(const CLI::App& command, const std::string& argument) {
  return argument.starts_with('-') ? command.get_option_no_throw(argument.substr(0, argument.find('='))) : nullptr;
}

/// The first option that was given more often than it got values; null if there is none.
const CLI::Option* option_without_value(const CLI::App& command, const std::vector<std::string>& arguments) {
  std::map<const CLI::Option*, std::size_t> given;
  for (const std::string& argument : arguments) {
    const CLI::Option* option = option_named(command, argument);
    if (option != nullptr && ++given[option] > option->count()) return option;
  }
  return nullptr;
}

/// What is wrong with the use of the program, in words.
std::string wrong_use_text(const CLI::App& app, const CLI::ParseError& wrong,
                           const std::vector<std::string>& arguments) {
  const auto is = [&](CLI::ExitCodes code) { return wrong.get_exit_code() == static_cast<int>(code); };
  if (is(CLI::ExitCodes::ArgumentMismatch)) {
    for (const CLI::App* command : app.get_subcommands()) {
      const CLI::Option* option = option_without_value(*command, arguments);
      if (option != nullptr) return option->get_name() + ": its value is missing";
    }
  }
  if (!app.get_subcommands().empty() || !is(CLI::ExitCodes::RequiredError)) return wrong.what();
  const std::vector<std::string> commands = {"posterior", "next", "case", "plan", "lint", "convert"};
  const std::vector<std::string> rest = app.remaining();
  if (rest.empty()) return "a command is missing: " + joined(commands);
  std::string text = "no command is named \"" + printable(rest.front()) + '"';
  const std::vector<std::string> nearest = nearest_names(rest.front(), commands);
  return text +
         (nearest.empty() ? "; there are " + joined(commands) : "; did you mean " + joined(nearest, " or ") + '?');
}

/// Whether whoever read the output has closed it, as `| head` does.
bool reader_has_gone() {
  pollfd output{STDOUT_FILENO, POLLOUT, 0};
  return poll(&output, 1, 0) == 1 && (output.revents & (POLLERR | POLLHUP)) != 0;
}

/// Writes out what is left. A reader that has gone away is no error; a full disk is one.
int flushed(int status) {
  std::cout.flush();
  if (std::cout.good() || reader_has_gone()) return status;
  std::cerr << "faultodds: the output could not be written; check that the disk has room\n";
  return at_fault;
}

}  // namespace

int run(int argc, char** argv) {
#ifdef SIGPIPE
  if (std::signal(SIGPIPE, SIG_IGN) == SIG_ERR) std::cerr << "faultodds: a closed pipe will end the program\n";
#endif
  int status = fine;
  CLI::App app{
      "Fault probabilities from what was found, and the next test for its cost.\n"
      "Advice only: the vehicle maker's service information, local codes and\n"
      "licensed practice come first."};
  app.name("faultodds");
  app.formatter(std::make_shared<Help>());
  app.set_version_flag("--version", "faultodds " FAULTODDS_VERSION, "Show the version");
  app.require_subcommand(1);
  app.footer(
      "Examples:\n"
      "  faultodds case models/low-power-petrol.json\n"
      "  faultodds next models/low-power-petrol.json \\\n"
      "    --finding low_power=present\n"
      "  faultodds COMMAND --help     explains one command\n"
      "\n"
      "Exit status: 0 fine; 1 the model, the findings or a file are at fault;\n"
      "2 wrong use of the program; 130 ended by Ctrl-C.");
  try {
    add_posterior(app, status);
    add_next(app, status);
    add_case(app, status);
    add_plan(app, status);
    add_lint(app, status);
    add_convert(app, status);
    app.parse(argc, argv);
  } catch (const CLI::ParseError& wrong) {
    const bool asked_for_help = wrong.get_exit_code() == static_cast<int>(CLI::ExitCodes::Success);
    if (asked_for_help) {
      app.exit(wrong, std::cout, std::cerr);
    } else {
      std::cerr << "faultodds: " << printable(wrong_use_text(app, wrong, {argv + 1, argv + argc}))
                << "\nRun with --help for more information.\n";
      status = wrong_use;
    }
  } catch (const std::exception& error) {
    status = report(error, Format::text);
  }
  return flushed(status);
}

}  // namespace faultodds::program
