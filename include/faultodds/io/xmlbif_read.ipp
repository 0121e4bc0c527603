// Reading XMLBIF. Part of xmlbif.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <optional>
#include <pugixml.hpp>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

#include "faultodds/io/network_tables.hpp"
#include "faultodds/io/text_file.hpp"
#include "faultodds/io/xmlbif.hpp"
#include "faultodds/io/xmlbif_text.hpp"

namespace faultodds {
namespace detail {

class XmlbifReader {
 public:
  XmlbifReader(std::string_view text, const std::string& file, RowScaling policy)
      : text_(text), policy_(policy), problems_(text, file) {}

  [[nodiscard]] FaultModel read() {
    // References stay as they are: which of them are known is decided in XmlText.
    constexpr unsigned options = pugi::parse_cdata | pugi::parse_declaration;
    const auto parsed = document_.load_buffer(text_.data(), text_.size(), options, pugi::encoding_utf8);
    if (!parsed) {
      const auto offset = static_cast<std::size_t>(std::max<std::ptrdiff_t>(parsed.offset, 0));
      problems_.add(std::min(offset, text_.size()), std::string("this is not XML: ") + parsed.description(),
                    "write well-formed XML");
      problems_.throw_if_any();
    }
    check_encoding();
    read_network(network());
    problems_.throw_if_any();
    return FaultModel(std::move(parts_), policy_, problems_.file());
  }

 private:
  struct Declared {
    std::size_t offset = 0;
    std::optional<std::size_t> table_offset;
    bool sound = true;
  };
  struct Named {
    std::string name;
    std::size_t offset = 0;
  };

  [[nodiscard]] std::size_t offset_of(const pugi::xml_node& node) const {
    return std::min(static_cast<std::size_t>(std::max<std::ptrdiff_t>(node.offset_debug(), 0)), text_.size());
  }
  [[nodiscard]] static std::string tag(const pugi::xml_node& node) { return std::string("<") + node.name() + '>'; }

  void refuse_element(const pugi::xml_node& node, const std::string& inside) {
    problems_.add(offset_of(node), tag(node) + " is in " + inside, "XMLBIF 0.3 has no such element there");
  }

  void check_encoding() {
    const bool plain =
        std::all_of(text_.begin(), text_.end(), [](char c) { return static_cast<unsigned char>(c) < 0x80U; });
    for (const pugi::xml_node& node : document_.children()) {
      if (node.type() != pugi::node_declaration) continue;
      std::string encoding = node.attribute("encoding").as_string("UTF-8");
      std::transform(encoding.begin(), encoding.end(), encoding.begin(),
                     [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 32) : c; });
      if (!plain && encoding != "UTF-8") {
        problems_.add(offset_of(node), "the encoding is declared as " + encoding,
                      "save the file as UTF-8 and declare that");
      }
    }
  }

  [[nodiscard]] pugi::xml_node network() {
    pugi::xml_node root;
    for (const pugi::xml_node& node : document_.children()) {
      if (node.type() != pugi::node_element) continue;
      if (root) problems_.add(offset_of(node), "a second outermost element, " + tag(node), "a document has one");
      if (!root) root = node;
    }
    if (std::string_view(root.name()) != "BIF") {
      problems_.add(offset_of(root), "the outermost element is " + tag(root), "XMLBIF starts with <BIF>");
      problems_.throw_if_any();
    }
    pugi::xml_node found;
    for (const pugi::xml_node& node : root.children()) {
      if (std::string_view(node.name()) != "NETWORK") {
        refuse_element(node, "<BIF>");
      } else if (found) {
        problems_.add(offset_of(node), "a second <NETWORK>", "a file holds one network");
      } else {
        found = node;
      }
    }
    if (!found) problems_.add(offset_of(root), "there is no <NETWORK>", "add one");
    return found;
  }

  void read_network(const pugi::xml_node& network) {
    bool named = false;
    bool described = false;
    for (const pugi::xml_node& node : network.children()) {
      const std::string_view name = node.name();
      if (name == "VARIABLE") {
        read_variable(node);
      } else if (name == "NAME") {
        if (std::exchange(named, true))
          problems_.add(offset_of(node), "a second name of the network", "keep one of them");
        parts_.header.name = text_in(node);
      } else if (name == "PROPERTY") {
        parts_.header.description.append(std::exchange(described, true) ? "\n" : "").append(text_in(node));
      } else if (name != "DEFINITION") {
        refuse_element(node, "<NETWORK>");
      }
      if (problems_.full()) return;
    }
    for (const pugi::xml_node& node : network.children("DEFINITION")) {
      read_definition(node);
      if (problems_.full()) return;
    }
    check_whole(network);
  }

  [[nodiscard]] std::string text_in(const pugi::xml_node& element) {
    XmlText text(problems_);
    for (const pugi::xml_node& node : element.children()) {
      if (node.type() == pugi::node_pcdata) {
        text.add_plain(node.value(), offset_of(node));
      } else if (node.type() == pugi::node_cdata) {
        text.add_literal(node.value());
      } else {
        refuse_element(node, tag(element));
      }
    }
    return text.taken();
  }

  void read_variable(const pugi::xml_node& element) {
    const std::size_t problems_before = problems_.size();
    const std::size_t offset = offset_of(element);
    const std::string_view type = element.attribute("TYPE").as_string("nature");
    if (type != "nature") {
      problems_.add(offset, "a variable of the type " + detail::quoted(std::string(type)),
                    "only nature, a chance variable, can be read");
    }
    Variable variable;
    std::unordered_map<std::string, std::size_t> offsets;
    bool named = false;
    for (const pugi::xml_node& node : element.children()) {
      const std::string_view name = node.name();
      if (name == "NAME") {
        if (std::exchange(named, true))
          problems_.add(offset_of(node), "a second name of the variable", "keep one of them");
        variable.name = text_in(node);
      } else if (name == "OUTCOME") {
        variable.states.push_back({text_in(node), {}});
        const std::string& state = variable.states.back().name;
        if (state.empty()) problems_.add(offset_of(node), "an outcome has no name", "name every outcome");
        if (const auto [known, fresh] = offsets.emplace(state, offset_of(node)); !fresh) {
          problems_.add(offset_of(node),
                        "a second outcome named " + detail::quoted(state) + " (the first is in " +
                            problems_.line(known->second) + ')',
                        "each outcome needs a name of its own");
        }
      } else if (name == "PROPERTY") {
        variable.properties.push_back(text_in(node));
      } else {
        refuse_element(node, "<VARIABLE>");
      }
    }
    if (variable.name.empty()) problems_.add(offset, "the variable has no name", "add a <NAME>");
    if (variable.states.empty()) {
      problems_.add(offset, "the variable " + detail::quoted(variable.name) + " has no outcomes",
                    "add <OUTCOME> elements");
    }
    declare(std::move(variable), {offset, std::nullopt, problems_.size() == problems_before});
  }

  void declare(Variable variable, const Declared& declared) {
    const auto [known, fresh] = index_.emplace(variable.name, declared_.size());
    if (!fresh) {
      problems_.add(declared.offset,
                    "the variable " + detail::quoted(variable.name) + " is declared twice (before in " +
                        problems_.line(declared_[known->second].offset) + ')',
                    "each variable needs a name of its own");
      declared_[known->second].sound = false;
      return;
    }
    parts_.variables.push_back(std::move(variable));
    declared_.push_back(declared);
  }

  void read_definition(const pugi::xml_node& element) {
    const std::size_t problems_before = problems_.size();
    std::vector<Named> names(1);
    std::vector<std::string> properties;
    pugi::xml_node table;
    bool has_child = false;
    for (const pugi::xml_node& node : element.children()) {
      const std::string_view name = node.name();
      if (name == "FOR") {
        if (std::exchange(has_child, true))
          problems_.add(offset_of(node), "a second <FOR>", "a definition is for one variable");
        names.front() = {text_in(node), offset_of(node)};
      } else if (name == "GIVEN") {
        names.push_back({text_in(node), offset_of(node)});
      } else if (name == "TABLE") {
        if (table) problems_.add(offset_of(node), "a second <TABLE>", "keep one of them");
        table = node;
      } else if (name == "PROPERTY") {
        properties.push_back(text_in(node));
      } else {
        refuse_element(node, "<DEFINITION>");
      }
    }
    if (!has_child) return problems_.add(offset_of(element), "the definition has no <FOR>", "name its variable");
    if (!table) {
      problems_.add(offset_of(element), "the definition of " + detail::quoted(names.front().name) + " has no <TABLE>",
                    "add one");
    }
    const auto scope = resolve(names);
    if (!scope || !table) return;
    Variable& child = parts_.variables[scope->front()];
    for (std::string& property : properties) child.properties.push_back(std::move(property));
    FullTable full{{scope->begin() + 1, scope->end()}, {}};
    read_table(table, scope->front(), full, problems_before);
    if (problems_.size() == problems_before) child.distribution = std::move(full);
  }

  /// The variables of a definition, its own first; nothing if its table cannot be understood.
  [[nodiscard]] std::optional<std::vector<std::size_t>> resolve(const std::vector<Named>& names) {
    std::vector<std::size_t> scope;
    bool sound = true;
    for (const auto& [name, offset] : names) {
      const auto known = index_.find(name);
      if (known == index_.end()) {
        problems_.add(offset, "no variable is named " + detail::quoted(name),
                      nearest_remedy(name, variable_names(parts_.variables), "declare it"));
        sound = false;
        continue;
      }
      const auto again = std::find(scope.begin(), scope.end(), known->second);
      if (again != scope.end()) {
        const bool self = name == names.front().name;
        problems_.add(offset, detail::quoted(name) + (self ? " is its own parent" : " is given twice"),
                      self ? "a variable cannot depend on itself" : "give each parent once");
        sound = false;
      }
      if (scope.empty() && &name == &names.front().name) {
        Declared& child = declared_[known->second];
        if (child.table_offset) {
          problems_.add(offset,
                        "a second definition of " + detail::quoted(name) + " (the first is in " +
                            problems_.line(*child.table_offset) + ')',
                        "keep one of them");
          return std::nullopt;
        }
        child.table_offset = offset;
      }
      sound = sound && declared_[known->second].sound;
      scope.push_back(known->second);
    }
    if (!sound) return std::nullopt;
    return scope;
  }

  void read_table(const pugi::xml_node& element, std::size_t child, FullTable& full, std::size_t problems_before) {
    std::vector<std::size_t> sizes;
    for (const std::size_t parent : full.parents) sizes.push_back(parts_.variables[parent].states.size());
    sizes.push_back(parts_.variables[child].states.size());
    const std::size_t entries = budget_.take("the table of " + detail::quoted(parts_.variables[child].name), sizes);
    std::vector<double> values;
    values.reserve(std::min(entries, text_.size() / 2));
    for (const pugi::xml_node& node : element.children()) {
      const bool is_text = node.type() == pugi::node_pcdata || node.type() == pugi::node_cdata;
      if (is_text) read_numbers(node.value(), offset_of(node), values);
      if (!is_text) refuse_element(node, "<TABLE>");
    }
    if (problems_.size() != problems_before) return;
    if (values.size() != entries) {
      return problems_.add(
          offset_of(element),
          counted(values.size(), "number") + " in the table of " + detail::quoted(parts_.variables[child].name),
          counted(sizes.back(), "state") + " and " + counted(entries / sizes.back(), "configuration") +
              " of its parents call for " + std::to_string(entries));
    }
    full.rows = Table(sizes.back(), std::move(values));
    check_rows_at(parts_.variables, child, full, policy_, offset_of(element), problems_);
  }

  void read_numbers(std::string_view raw, std::size_t offset, std::vector<double>& values) {
    std::size_t at = 0;
    while (at < raw.size() && !problems_.full()) {
      if (is_xml_blank(raw[at])) {
        ++at;
        continue;
      }
      std::size_t end = at;
      while (end < raw.size() && !is_xml_blank(raw[end])) ++end;
      double value = 0.0;
      if (const NumberFault fault = read_number(raw.substr(at, end - at), value); fault != NumberFault::none) {
        Problem problem = number_problem(raw.substr(at, end - at), fault);
        problems_.add(offset + at, std::move(problem.found), std::move(problem.remedy));
      }
      values.push_back(value);
      at = end;
    }
  }

  void check_whole(const pugi::xml_node& network) {
    std::vector<std::size_t> offsets;
    for (std::size_t v = 0; v < declared_.size(); ++v) {
      offsets.push_back(declared_[v].table_offset.value_or(declared_[v].offset));
      if (declared_[v].table_offset) continue;
      problems_.add(declared_[v].offset,
                    "the variable " + detail::quoted(parts_.variables[v].name) + " has no definition", "add one");
    }
    check_cycles_at(parts_, offsets, problems_);
    if (declared_.empty() && problems_.size() == 0)
      problems_.add(offset_of(network), "the network has no variable", "a network has at least one");
  }

  std::string_view text_;
  const RowScaling policy_;
  TextProblems problems_;
  pugi::xml_document document_;
  TableBudget budget_;
  ModelParts parts_;
  std::vector<Declared> declared_;
  std::unordered_map<std::string, std::size_t> index_;
};

}  // namespace detail

inline FaultModel read_xmlbif(std::string_view text, const std::string& file, RowScaling policy) {
  return detail::XmlbifReader(checked_utf8(text, file), file, policy).read();
}

}  // namespace faultodds
