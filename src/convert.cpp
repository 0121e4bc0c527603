// SPDX-License-Identifier: BSD-3-Clause
#include <filesystem>
#include <iostream>
#include <memory>

#include "faultodds/io/model_file.hpp"
#include "program.hpp"
#include "report.hpp"
#include "text.hpp"

namespace faultodds::program {
namespace {

struct ConvertOptions {
  std::string in;
  std::string out;
  bool force = false;
  Format format = Format::text;
};

/// Throws ModelError if a file that would be written exists already.
void refuse_to_replace(const std::filesystem::path& out) {
  std::vector<std::filesystem::path> written = {out};
  if (format_of(out) == ModelFormat::uai) written.push_back(uai_names_path(out));
  for (const std::filesystem::path& file : written) {
    if (!std::filesystem::exists(file)) continue;
    throw ModelError({{.place = "",
                       .found = "the file exists already",
                       .remedy = "choose another name, or add --force to replace it"}},
                     file.string());
  }
}

int convert(const ConvertOptions& options) {
  if (!options.force) refuse_to_replace(options.out);
  const std::vector<std::string> notes = write_model(read_model(options.in), options.out);
  if (options.format == Format::json) {
    print({{"in", options.in}, {"out", options.out}, {"notes", notes}});
    return fine;
  }
  const Screen screen(std::cout, look_of_output());
  screen.text("wrote " + options.out);
  for (const std::string& note : notes) screen.item("note", note, 0, 9);
  return fine;
}

}  // namespace

void add_convert(CLI::App& app, int& status) {
  auto options = std::make_shared<ConvertOptions>();
  CLI::App* command =
      app.add_subcommand("convert", "Write a model in another format, or as a picture")->group("Commands");
  command->add_option("IN", options->in, "Fault model or network (.json, .bif, .xml, .xmlbif, .uai; also .gz)")
      ->required();
  command->add_option("OUT", options->out, "File to write; its extension says the format; .dot for a picture")
      ->required();
  command->add_flag("--force", options->force, "Replace OUT if it exists already");
  add_format(*command, options->format);
  command->footer(
      "Examples:\n"
      "  faultodds convert network.bif.gz network.json\n"
      "  faultodds convert models/tutorial.json tutorial.dot\n"
      "  dot -Tsvg -O tutorial.dot");
  command->callback([options, &status] { status = guarded(options->format, [&] { return convert(*options); }); });
}

}  // namespace faultodds::program
