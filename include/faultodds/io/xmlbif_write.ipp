// Writing XMLBIF. Part of xmlbif.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#include <string>
#include <string_view>

#include "faultodds/io/network_tables.hpp"
#include "faultodds/io/xmlbif.hpp"
#include "faultodds/io/xmlbif_text.hpp"

namespace faultodds {
namespace detail {

inline void append_xml(std::string& text, std::string_view indent, std::string_view tag, std::string_view content,
                       const std::string& place) {
  text.append(indent)
      .append("<")
      .append(tag)
      .append(">")
      .append(xml_text(content, place))
      .append("</")
      .append(tag)
      .append(">\n");
}

}  // namespace detail

inline std::string write_xmlbif(const FaultModel& model) {
  detail::refuse_potentials(model, "XMLBIF");
  std::string text = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<BIF VERSION=\"0.3\">\n<NETWORK>\n";
  detail::append_xml(text, "", "NAME", model.header().name, "header");
  std::string_view rest = model.header().description;
  while (!model.header().description.empty()) {
    const std::size_t end = std::min(rest.find('\n'), rest.size());
    detail::append_xml(text, "", "PROPERTY", rest.substr(0, end), "header");
    if (end == rest.size()) break;
    rest.remove_prefix(end + 1);
  }
  for (const Variable& variable : model.variables()) {
    text += "<VARIABLE TYPE=\"nature\">\n";
    detail::append_xml(text, "  ", "NAME", variable.name, variable.name);
    for (const State& state : variable.states) detail::append_xml(text, "  ", "OUTCOME", state.name, variable.name);
    for (const std::string& property : variable.properties)
      detail::append_xml(text, "  ", "PROPERTY", property, variable.name);
    text += "</VARIABLE>\n";
  }
  for (std::size_t v = 0; v < model.size(); ++v) {
    const FullTable table = written_out(model, v);
    text += "<DEFINITION>\n";
    detail::append_xml(text, "  ", "FOR", model.variable(v).name, model.variable(v).name);
    for (const std::size_t parent : table.parents) {
      detail::append_xml(text, "  ", "GIVEN", model.variable(parent).name, model.variable(parent).name);
    }
    text += "  <TABLE>\n";
    for (std::size_t r = 0; r < table.rows.rows(); ++r) {
      text += "   ";
      for (const double value : table.rows.row(r)) append_number(text += ' ', value);
      text += '\n';
    }
    text += "  </TABLE>\n</DEFINITION>\n";
  }
  return text += "</NETWORK>\n</BIF>\n";
}

}  // namespace faultodds
