// The rows of a BIF probability block. Part of bif.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#include <algorithm>
#include <numeric>
#include <optional>
#include <utility>
#include <vector>

#include "faultodds/io/bif_lexer.ipp"
#include "faultodds/io/network_tables.hpp"

namespace faultodds::detail {

/// Finds states by name: by looking through few, by bisection among many.
class StateFinder {
 public:
  StateFinder() = default;
  explicit StateFinder(const std::vector<State>& states) {
    if (states.size() <= few) return;
    by_name_.resize(states.size());
    std::iota(by_name_.begin(), by_name_.end(), std::size_t{0});
    std::sort(by_name_.begin(), by_name_.end(),
              [&](std::size_t a, std::size_t b) { return states[a].name < states[b].name; });
  }

  [[nodiscard]] std::optional<std::size_t> find(const std::vector<State>& states, std::string_view name) const {
    if (by_name_.empty()) {
      for (std::size_t s = 0; s < states.size(); ++s) {
        if (states[s].name == name) return s;
      }
      return std::nullopt;
    }
    const auto found =
        std::lower_bound(by_name_.begin(), by_name_.end(), name,
                         [&](std::size_t s, std::string_view wanted) { return states[s].name < wanted; });
    if (found == by_name_.end() || states[*found].name != name) return std::nullopt;
    return *found;
  }

 private:
  static constexpr std::size_t few = 12;
  std::vector<std::size_t> by_name_;
};

/// A probability block as it is in the text.
struct BifTable {
  struct Numbers {
    std::size_t offset = 0;
    std::vector<double> values;
  };

  std::size_t child = 0;
  std::size_t offset = 0;
  std::vector<VariableIndex> parents;
  std::vector<double> values;            ///< of the labelled rows, one row after the other
  std::vector<std::size_t> rows;         ///< which row each of them is
  std::vector<std::size_t> row_offsets;  ///< where each of them is
  std::optional<Numbers> flat;
  std::optional<Numbers> otherwise;
};

/// Reads the statements of a probability block and makes a table of them.
class BifTableReader {
 public:
  BifTableReader(BifLexer& lexer, TextProblems& problems, const std::vector<Variable>& variables,
                 const std::vector<StateFinder>& finders, RowScaling policy, TableBudget& budget)
      : lexer_(lexer),
        problems_(problems),
        variables_(variables),
        finders_(finders),
        policy_(policy),
        budget_(budget) {}

  /// One statement other than a property.
  void read_statement(BifTable& table) {
    const BifToken start = lexer_.peek();
    if (start.is('(')) {
      read_row(table);
    } else if (start.is_word("table")) {
      read_flat(table, table.flat, "table");
    } else if (start.is_word("default")) {
      read_flat(table, table.otherwise, "default");
    } else {
      throw lexer_.unexpected("table, default, property, or a row such as (yes, no) 0.1, 0.9;");
    }
  }

  /// The whole table; nothing if problems were added. `before` is how many there were when the block began.
  [[nodiscard]] std::optional<FullTable> finish(BifTable& table, std::size_t before) {
    const std::size_t columns = variables_[table.child].states.size();
    std::vector<std::size_t> sizes;
    for (const std::size_t parent : table.parents) sizes.push_back(variables_[parent].states.size());
    sizes.push_back(columns);
    const std::size_t entries = budget_.take("the table of " + detail::quoted(variables_[table.child].name), sizes);
    const std::size_t rows = entries / columns;
    FullTable made{table.parents, {}};
    if (table.flat) {
      made.rows = finish_flat(table, rows, columns);
    } else if (table.rows.empty() && !table.otherwise) {
      if (problems_.size() == before) {
        problems_.add(table.offset,
                      "the block of " + detail::quoted(variables_[table.child].name) + " holds no numbers",
                      "give it a row for each configuration of its parents");
      }
    } else {
      made.rows = finish_rows(table, rows, columns);
    }
    if (problems_.size() != before) return std::nullopt;
    return made;
  }

 private:
  [[nodiscard]] std::string child_name(const BifTable& table) const {
    return detail::quoted(variables_[table.child].name);
  }

  /// Numbers up to the semicolon, appended. Returns how many.
  std::size_t read_numbers(std::vector<double>& values) {
    std::size_t count = 0;
    while (!lexer_.take_if(';')) {
      const BifToken token = lexer_.peek();
      if (!token.is_name()) throw lexer_.unexpected("a number, or a semicolon to end the row");
      double value = 0.0;
      if (const NumberFault fault = read_number(token.text, value); fault != NumberFault::none) {
        Problem problem = number_problem(token.text, fault);
        throw BifFault{token.offset, std::move(problem.found), std::move(problem.remedy)};
      }
      lexer_.take();
      values.push_back(value);
      ++count;
    }
    return count;
  }

  void read_flat(const BifTable& table, std::optional<BifTable::Numbers>& numbers, const std::string& what) {
    const BifToken keyword = lexer_.take();
    if (numbers) {
      problems_.add(keyword.offset,
                    "a second " + what + " of " + child_name(table) + " (the first is in " +
                        problems_.line(numbers->offset) + ')',
                    "keep one of them");
    }
    BifTable::Numbers read{keyword.offset, {}};
    read_numbers(read.values);
    numbers = std::move(read);
  }

  /// Which row the labels in front of it name; nothing if they name none.
  [[nodiscard]] std::optional<std::size_t> read_labels(const BifTable& table) {
    const BifToken open = lexer_.take();
    std::size_t row = 0;
    std::size_t count = 0;
    bool known = true;
    while (!lexer_.take_if(')')) {
      const BifToken label = lexer_.expect_name("the state of a parent");
      if (count++ >= table.parents.size()) continue;
      const std::size_t parent = table.parents[count - 1];
      const std::vector<State>& states = variables_[parent].states;
      const auto state = finders_[parent].find(states, label.text);
      if (!state) {
        problems_.add(label.offset,
                      detail::quoted(variables_[parent].name) + " has no state \"" + std::string(label.text) + '"',
                      nearest_remedy(label.text, state_names(variables_[parent]), "name one of its states"));
        known = false;
        continue;
      }
      row = row * states.size() + *state;
    }
    if (count == table.parents.size()) return known ? std::optional(row) : std::nullopt;
    problems_.add(open.offset, counted(count, "label") + " come before a row of " + child_name(table),
                  "it has " + counted(table.parents.size(), "parent") + ": give the state of each, in their order");
    return std::nullopt;
  }

  void read_row(BifTable& table) {
    const std::size_t offset = lexer_.peek().offset;
    const auto row = read_labels(table);
    const std::size_t start = table.values.size();
    const std::size_t columns = variables_[table.child].states.size();
    std::size_t count = 0;
    try {
      count = read_numbers(table.values);
    } catch (BifFault&) {
      table.values.resize(start);
      throw;
    }
    if (count != columns) {
      problems_.add(offset, counted(count, "number") + " in a row of " + child_name(table),
                    "it has " + counted(columns, "state"));
      table.values.resize(start);
    }
    if (!row) table.values.resize(start);
    if (!row || count != columns) return;
    table.rows.push_back(*row);
    table.row_offsets.push_back(offset);
  }

  [[nodiscard]] Table finish_flat(const BifTable& table, std::size_t rows, std::size_t columns) {
    const BifTable::Numbers& flat = *table.flat;
    if (!table.rows.empty() || table.otherwise) {
      problems_.add(flat.offset,
                    "a table and " + std::string(table.rows.empty() ? "a default" : "rows with labels") + " for " +
                        child_name(table),
                    "keep one of them");
      return {};
    }
    if (flat.values.size() != rows * columns) {
      problems_.add(flat.offset, counted(flat.values.size(), "number") + " in the table of " + child_name(table),
                    counted(columns, "state") + " and " + counted(rows, "configuration") + " of its parents call for " +
                        std::to_string(rows * columns));
      return {};
    }
    Table made(rows, columns);
    for (std::size_t s = 0; s < columns; ++s) {
      for (std::size_t r = 0; r < rows; ++r) made(r, s) = flat.values[s * rows + r];
    }
    const Table reversed(columns, flat.values);
    if (rows > 1 && !all_fine(made) && all_fine(reversed)) {
      problems_.add(flat.offset,
                    "the rows of the table of " + child_name(table) +
                        " do not sum to 1 with its own states slowest, as this format has it, "
                        "but would with its own states fastest",
                    "write all numbers of its first state, then all of its second, and so on; or use rows with labels");
      return {};
    }
    check_rows_at(variables_, table.child, {table.parents, made}, policy_, flat.offset, problems_);
    return made;
  }

  [[nodiscard]] static bool all_fine(const Table& table) {
    for (std::size_t r = 0; r < table.rows(); ++r) {
      if (!row_is_fine(table.row(r))) return false;
    }
    return true;
  }

  [[nodiscard]] Table finish_rows(BifTable& table, std::size_t rows, std::size_t columns) {
    check_otherwise(table, columns);
    const std::size_t given = table.rows.size();
    const bool in_order = given == rows && std::is_sorted(table.rows.begin(), table.rows.end()) &&
                          std::adjacent_find(table.rows.begin(), table.rows.end()) == table.rows.end();
    Table read(columns, std::move(table.values));
    for (std::size_t i = 0; i < given && !problems_.full(); ++i) {
      check_row_at(read.row(i), policy_, table.row_offsets[i], problems_,
                   [&] { return row_title(variables_, table.child, table.parents, table.rows[i]); });
    }
    if (in_order) return read;

    constexpr auto missing = static_cast<std::size_t>(-1);
    std::vector<std::size_t> where(rows, missing);
    for (std::size_t i = 0; i < given; ++i) {
      std::size_t& place = where[table.rows[i]];
      if (place != missing) {
        problems_.add(table.row_offsets[i],
                      row_title(variables_, table.child, table.parents, table.rows[i]) + " is given twice (before in " +
                          problems_.line(table.row_offsets[place]) + ')',
                      "give each configuration once");
        continue;
      }
      place = i;
    }
    if (!table.otherwise) list_missing(table, where);
    Table made(rows, columns);
    for (std::size_t r = 0; r < rows; ++r) {
      if (where[r] == missing && !table.otherwise) continue;
      const std::span<const double> from =
          where[r] == missing ? std::span<const double>(table.otherwise->values) : read.row(where[r]);
      if (from.size() == columns) std::copy(from.begin(), from.end(), made.row(r).begin());
    }
    return made;
  }

  void check_otherwise(const BifTable& table, std::size_t columns) {
    if (!table.otherwise) return;
    if (table.otherwise->values.size() != columns) {
      problems_.add(table.otherwise->offset,
                    counted(table.otherwise->values.size(), "number") + " in the default of " + child_name(table),
                    "it has " + counted(columns, "state"));
      return;
    }
    check_row_at(table.otherwise->values, policy_, table.otherwise->offset, problems_,
                 [&] { return "the default row of " + child_name(table); });
  }

  void list_missing(const BifTable& table, const std::vector<std::size_t>& where) {
    constexpr std::size_t max_listed = 10;
    const auto count = static_cast<std::size_t>(std::count(where.begin(), where.end(), static_cast<std::size_t>(-1)));
    std::size_t listed = 0;
    for (std::size_t r = 0; r < where.size() && listed < std::min(count, max_listed); ++r) {
      if (where[r] != static_cast<std::size_t>(-1)) continue;
      ++listed;
      problems_.add(table.offset,
                    child_name(table) + " has no row" +
                        (table.parents.empty() ? "" : " for " + configuration_text(variables_, table.parents, r)),
                    "add the row, or a default");
    }
    if (count > listed) {
      problems_.add(table.offset, child_name(table) + " lacks " + counted(count - listed, "more row"),
                    "add them, or a default");
    }
  }

  BifLexer& lexer_;
  TextProblems& problems_;
  const std::vector<Variable>& variables_;
  const std::vector<StateFinder>& finders_;
  RowScaling policy_;
  TableBudget& budget_;
};

}  // namespace faultodds::detail
