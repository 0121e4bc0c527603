// The blocks of BIF text. Part of bif.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <optional>
#include <unordered_map>
#include <utility>
#include <vector>

#include "faultodds/io/bif.hpp"
#include "faultodds/io/bif_table.ipp"
#include "faultodds/io/text_file.hpp"

namespace faultodds {
namespace detail {

/// Reads a file block by block. A probability block that comes before the variables it names is read at the end.
class BifReader {
 public:
  BifReader(std::string_view text, const std::string& file, RowScaling policy)
      : policy_(policy), problems_(text, file), lexer_(text, problems_) {}

  [[nodiscard]] FaultModel read() {
    while (lexer_.peek().kind != BifKind::end && !problems_.full()) read_block();
    all_declared_ = true;
    for (const std::size_t offset : deferred_) {
      if (problems_.full()) break;
      lexer_.seek(offset);
      read_block();
    }
    if (!problems_.full()) check_whole();
    problems_.throw_if_any();
    return FaultModel(std::move(parts_), policy_, problems_.file());
  }

 private:
  /// Where the two blocks of a variable are, and whether its states can be relied on.
  struct Declared {
    std::size_t offset = 0;
    std::optional<std::size_t> table_offset;
    bool sound = true;
  };

  void read_block() {
    try {
      const BifToken& next = lexer_.peek();
      if (next.is_word("network")) return read_network();
      if (next.is_word("variable")) return read_variable();
      if (next.is_word("probability")) return read_probability();
      if (!lexer_.take_if(';')) throw lexer_.unexpected("network, variable or probability");
    } catch (BifFault& fault) {
      problems_.add(fault.offset, std::move(fault.found), std::move(fault.remedy));
      if (!lexer_.at_block()) lexer_.take();
      lexer_.skip_to_block();
    }
  }

  /// The statements of a block. One that cannot be read does not keep the next from being read.
  template <class Statement>
  void read_statements(std::size_t start, const Statement& read_statement) {
    lexer_.expect('{', "to open the block");
    while (!lexer_.take_if('}') && !problems_.full()) {
      if (lexer_.peek().kind == BifKind::end || lexer_.at_block()) {
        throw BifFault{lexer_.peek().offset, "the block that starts in " + problems_.line(start) + " is not closed",
                       "close it with }"};
      }
      try {
        read_statement();
      } catch (BifFault& fault) {
        problems_.add(fault.offset, std::move(fault.found), std::move(fault.remedy));
        lexer_.skip_statement();
      }
    }
  }

  void read_network() {
    const BifToken keyword = lexer_.take();
    const BifToken name = lexer_.expect_name("the network's name");
    if (network_offset_) {
      problems_.add(keyword.offset, "a second network block (the first is in " + problems_.line(*network_offset_) + ')',
                    "a file holds one network");
    }
    network_offset_ = keyword.offset;
    parts_.header.name = std::string(name.text);
    bool first = true;
    read_statements(keyword.offset, [&] {
      if (!lexer_.peek().is_word("property")) throw lexer_.unexpected("a property");
      parts_.header.description.append(std::exchange(first, false) ? "" : "\n").append(lexer_.take_property());
    });
  }

  void read_variable() {
    const std::size_t problems_before = problems_.size();
    const BifToken keyword = lexer_.take();
    const BifToken name = lexer_.expect_name("the variable's name");
    Variable variable;
    variable.name = std::string(name.text);
    if (variable.name.empty()) problems_.add(name.offset, "the variable's name is empty", "give it a name of its own");
    std::optional<std::size_t> type_offset;
    read_statements(keyword.offset, [&] {
      const BifToken statement = lexer_.peek();
      if (statement.is_word("property")) {
        variable.properties.push_back(lexer_.take_property());
        return;
      }
      if (!statement.is_word("type")) throw lexer_.unexpected("type or property");
      if (type_offset) {
        problems_.add(statement.offset,
                      "a second type of " + detail::quoted(variable.name) + " (the first is in " +
                          problems_.line(*type_offset) + ')',
                      "give its states once");
      }
      type_offset = statement.offset;
      variable.states = read_type(variable.name);
    });
    if (!type_offset) {
      problems_.add(keyword.offset, "the variable " + detail::quoted(variable.name) + " has no type",
                    "add one such as: type discrete [ 2 ] { no, yes };");
    }
    declare(std::move(variable), {keyword.offset, std::nullopt, problems_.size() == problems_before});
  }

  [[nodiscard]] std::vector<State> read_type(const std::string& owner) {
    lexer_.take();
    if (!lexer_.peek().is_word("discrete")) throw lexer_.unexpected("discrete");
    lexer_.take();
    lexer_.expect('[', "before the number of states");
    const BifToken number = lexer_.expect_name("the number of states");
    std::size_t declared = 0;
    const char* const end = number.text.data() + number.text.size();
    const auto result = std::from_chars(number.text.data(), end, declared);
    if (result.ec != std::errc() || result.ptr != end)
      throw BifFault{number.offset, number.shown() + " is no number of states", "write a whole number"};
    lexer_.expect(']', "after the number of states");
    const std::size_t start = lexer_.peek().offset;
    lexer_.expect('{', "before the states");
    std::vector<State> states;
    std::unordered_map<std::string, std::size_t> offsets;
    while (!lexer_.take_if('}')) {
      const BifToken state = lexer_.expect_name("the name of a state");
      states.push_back({std::string(state.text), {}});
      if (state.text.empty())
        problems_.add(state.offset, "a state of " + detail::quoted(owner) + " has no name", "name every state");
      if (const auto [known, fresh] = offsets.emplace(states.back().name, state.offset); !fresh) {
        problems_.add(state.offset,
                      detail::quoted(owner) + " has two states named " + detail::quoted(known->first) +
                          " (the other is in " + problems_.line(known->second) + ')',
                      "each state needs a name of its own");
      }
    }
    lexer_.expect(';', "after the states");
    if (states.empty() || states.size() != declared) {
      problems_.add(start,
                    detail::quoted(owner) + " declares " + counted(declared, "state") + " and lists " +
                        std::to_string(states.size()),
                    "both must be the same, and at least 1");
    }
    return states;
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
    finders_.emplace_back(variable.states);
    parts_.variables.push_back(std::move(variable));
    declared_.push_back(declared);
  }

  void read_probability() {
    const std::size_t problems_before = problems_.size();
    const BifToken keyword = lexer_.take();
    lexer_.expect('(', "before the variable");
    std::vector<BifToken> names{lexer_.expect_name("the variable")};
    std::ignore = lexer_.take_if('|');
    while (!lexer_.take_if(')')) names.push_back(lexer_.expect_name("a parent, or a closing bracket"));
    const bool known = std::all_of(names.begin(), names.end(),
                                   [&](const BifToken& name) { return index_.contains(std::string(name.text)); });
    if (!known && !all_declared_) {
      deferred_.push_back(keyword.offset);
      return lexer_.skip_block();
    }
    BifTable table;
    table.offset = keyword.offset;
    const bool sound = known ? resolve(names, table) : refuse_unknown(names);
    if (!sound) return lexer_.skip_block();

    BifTableReader reader(lexer_, problems_, parts_.variables, finders_, policy_, budget_);
    Variable& child = parts_.variables[table.child];
    read_statements(keyword.offset, [&] {
      if (lexer_.peek().is_word("property")) {
        child.properties.push_back(lexer_.take_property());
      } else {
        reader.read_statement(table);
      }
    });
    if (problems_.full()) return;
    if (auto made = reader.finish(table, problems_before)) child.distribution = std::move(*made);
  }

  [[nodiscard]] bool refuse_unknown(const std::vector<BifToken>& names) {
    for (const BifToken& name : names) {
      const auto known = index_.find(std::string(name.text));
      if (known == index_.end()) {
        problems_.add(name.offset, "no variable is named " + detail::quoted(std::string(name.text)),
                      nearest_remedy(name.text, variable_names(parts_.variables), "declare it"));
      } else if (&name == &names.front() && !declared_[known->second].table_offset) {
        declared_[known->second].table_offset = name.offset;
      }
    }
    return false;
  }

  /// Looks the names up. False if the block's rows cannot be understood.
  [[nodiscard]] bool resolve(const std::vector<BifToken>& names, BifTable& table) {
    bool sound = true;
    std::vector<std::size_t> found;
    for (const BifToken& name : names) {
      const std::size_t variable = index_.at(std::string(name.text));
      const auto again = std::find(found.begin(), found.end(), variable);
      if (again != found.end()) {
        const bool self = again == found.begin();
        problems_.add(name.offset,
                      self ? detail::quoted(std::string(name.text)) + " is its own parent"
                           : "the parent " + detail::quoted(std::string(name.text)) + " is given twice",
                      self ? "a variable cannot depend on itself" : "give each parent once");
        sound = false;
      }
      found.push_back(variable);
      sound = sound && declared_[variable].sound;
    }
    table.child = found.front();
    table.parents.assign(found.begin() + 1, found.end());
    Declared& child = declared_[table.child];
    if (child.table_offset) {
      problems_.add(names.front().offset,
                    "a second probability block of " + detail::quoted(std::string(names.front().text)) +
                        " (the first is in " + problems_.line(*child.table_offset) + ')',
                    "keep one of them");
      return false;
    }
    child.table_offset = names.front().offset;
    return sound;
  }

  void check_whole() {
    std::vector<std::size_t> offsets;
    for (std::size_t v = 0; v < declared_.size(); ++v) {
      offsets.push_back(declared_[v].table_offset.value_or(declared_[v].offset));
      if (declared_[v].table_offset) continue;
      problems_.add(declared_[v].offset,
                    "the variable " + detail::quoted(parts_.variables[v].name) + " has no probability block",
                    "add one");
    }
    check_cycles_at(parts_, offsets, problems_);
    if (declared_.empty() && problems_.size() == 0)
      problems_.add(0, "the text declares no variable", "a network has at least one");
  }

  const RowScaling policy_;
  TextProblems problems_;
  BifLexer lexer_;
  TableBudget budget_;
  ModelParts parts_;
  std::vector<Declared> declared_;
  std::vector<StateFinder> finders_;
  std::unordered_map<std::string, std::size_t> index_;
  std::vector<std::size_t> deferred_;
  std::optional<std::size_t> network_offset_;
  bool all_declared_ = false;
};

}  // namespace detail

inline FaultModel read_bif(std::string_view text, const std::string& file, RowScaling policy) {
  return detail::BifReader(checked_utf8(text, file), file, policy).read();
}

}  // namespace faultodds
