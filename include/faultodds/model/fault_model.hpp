// The fault model: everything that is said about a kind of vehicle, validated once and immutable afterwards.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "faultodds/model/errors.hpp"
#include "faultodds/model/kept_text.hpp"
#include "faultodds/model/names.hpp"
#include "faultodds/model/variable.hpp"
#include "faultodds/model/work.hpp"

namespace faultodds {

/// A named thing with a label and a longer text: a tool, a skill level, a caution.
struct Term {
  std::string name;
  std::string label;
  std::string description;

  bool operator==(const Term&) const = default;
};

/// What a repair may turn a fault into that it does not mend: less bad, but not gone.
struct Easing {
  StateIndex from;           ///< a fault state
  StateIndex to;             ///< another one
  double probability = 0.0;  ///< in addition to the success of the repair

  bool operator==(const Easing&) const = default;
};

/// An action that makes a component sound with some probability.
struct Repair {
  std::string name;
  std::string label;
  std::string procedure;
  VariableIndex component;
  std::vector<StateIndex> mends;  ///< fault states it can mend
  double success = 1.0;           ///< probability that a mendable fault is gone afterwards
  Work work;
  std::string source;
  std::vector<Easing> partial{};              ///< what else it may turn a fault into
  std::optional<RepairCheck> verification{};  ///< its own check; nothing: that of the model

  bool operator==(const Repair&) const = default;
};

/// Whether the repair can mend the fault of this component and state.
[[nodiscard]] bool can_mend(const Repair& repair, VariableIndex component, StateIndex state);

/// Facts about the model as a whole.
struct Header {
  std::string name;
  std::string title;
  std::string version;
  std::string description;
  std::vector<std::string> authors;
  bool invented = false;  ///< numbers are invented and must be tuned before any real use
  std::string safety;     ///< shown before any advice
  std::string currency;
  double labour_rate = 0.0;  ///< money per hour
  std::string source;

  bool operator==(const Header&) const = default;
};

/// All that a fault model says, as plain data: what a reader or a builder fills in.
struct ModelParts {
  Header header;
  std::vector<Variable> variables;
  std::vector<Potential> potentials;  ///< only for Markov networks
  std::vector<Access> access;
  std::vector<Term> tools;
  std::vector<Term> skills;  ///< in rising order
  std::vector<Term> cautions;
  std::vector<Repair> repairs;
  std::vector<Condition> conditions{};
  std::vector<HandOver> hand_overs{};
  std::optional<RepairCheck> verification{};  ///< after a repair; nothing: it is seen at once, for nothing
  std::optional<Comeback> comeback{};         ///< nothing: the model does not say
  std::optional<LiveWith> live_with{};        ///< nothing: it is not offered

  bool operator==(const ModelParts&) const = default;
};

/// A row whose sum missed one by rounding, and which was scaled.
struct ScaledRow {
  std::string variable;
  std::size_t row = 0;  ///< of the full table; of a noisy-MAX: the leak is 0, then the effects of its causes in turn
  double sum = 1.0;     ///< what the row summed to before

  bool operator==(const ScaledRow&) const = default;
};

/// What is done with rows that do not sum to one.
struct RowScaling {
  bool normalise = false;  ///< scale any row with a positive sum instead of refusing it
};

/// Immutable once made. Copies share their contents.
class FaultModel {
 public:
  /// Validates `parts`, scales rows that miss one by rounding, and works out the order.
  /// Throws ModelError listing every problem found; `file` is only named in messages.
  explicit FaultModel(ModelParts parts, RowScaling policy = {}, const std::string& file = {});
  // What is behind a model is shared, and moving one copies it: what was moved from stays whole.
  FaultModel(const FaultModel&) = default;
  FaultModel& operator=(const FaultModel&) = default;
  ~FaultModel() = default;

  [[nodiscard]] const ModelParts& parts() const noexcept { return data_->parts; }
  [[nodiscard]] const Header& header() const noexcept { return data_->parts.header; }
  [[nodiscard]] std::size_t size() const noexcept { return data_->parts.variables.size(); }  ///< number of variables
  [[nodiscard]] const std::vector<Variable>& variables() const noexcept { return data_->parts.variables; }
  /// Throws ArgumentError if `index` is out of range.
  [[nodiscard]] const Variable& variable(VariableIndex index) const;
  [[nodiscard]] std::size_t state_count(VariableIndex index) const { return variable(index).states.size(); }

  /// Index of the variable of this name, otherwise of the one symptom that is this trouble code, whatever the case of
  /// its letters. Throws UnknownName with the names that begin so, or are nearest to it, or share the code.
  [[nodiscard]] VariableIndex index_of(std::string_view name) const;
  /// The same without a throw: nothing if there is none.
  [[nodiscard]] std::optional<VariableIndex> find(std::string_view name) const;
  /// Index of a state by its name. Text is always a name, never a number. Throws UnknownName.
  [[nodiscard]] StateIndex state_of(VariableIndex variable, std::string_view state) const;

  /// Position of a repair in parts().repairs, of an access job in parts().access, and so on, by its name; nothing if
  /// the model has none of this name.
  [[nodiscard]] std::optional<RepairIndex> find_repair(std::string_view name) const;
  [[nodiscard]] std::optional<std::size_t> find_access(std::string_view name) const;
  [[nodiscard]] std::optional<std::size_t> find_condition(std::string_view name) const;
  [[nodiscard]] std::optional<std::size_t> find_tool(std::string_view name) const;
  [[nodiscard]] std::optional<std::size_t> find_skill(std::string_view name) const;
  [[nodiscard]] std::optional<std::size_t> find_caution(std::string_view name) const;
  [[nodiscard]] std::optional<HandOverIndex> find_hand_over(std::string_view name) const;
  /// The same; throws UnknownName with the nearest names.
  [[nodiscard]] RepairIndex index_of_repair(std::string_view name) const;
  [[nodiscard]] std::size_t index_of_access(std::string_view name) const;
  [[nodiscard]] std::size_t index_of_condition(std::string_view name) const;
  [[nodiscard]] std::size_t index_of_tool(std::string_view name) const;
  [[nodiscard]] std::size_t index_of_skill(std::string_view name) const;
  [[nodiscard]] std::size_t index_of_caution(std::string_view name) const;
  [[nodiscard]] HandOverIndex index_of_hand_over(std::string_view name) const;

  /// Parents of a variable, each once (for a variable of a Markov network: none).
  [[nodiscard]] const std::vector<VariableIndex>& parents(VariableIndex index) const {
    static_cast<void>(variable(index));
    return data_->parents[index];
  }
  [[nodiscard]] const std::vector<VariableIndex>& children(VariableIndex index) const {
    static_cast<void>(variable(index));
    return data_->children[index];
  }
  /// Variables, parents before children; among equals the model's order.
  [[nodiscard]] const std::vector<VariableIndex>& topological_order() const noexcept { return data_->order; }
  /// Variables of a role, in the model's order.
  [[nodiscard]] std::vector<VariableIndex> with_role(Role role) const;
  /// Rows that were scaled because their sums missed one by rounding.
  [[nodiscard]] const std::vector<ScaledRow>& scaled_rows() const noexcept { return data_->scaled; }
  /// Where content_check keeps what it worked out of the whole model: copies share it.
  [[nodiscard]] const detail::KeptText& kept_content() const noexcept { return data_->content; }

  bool operator==(const FaultModel& other) const;

 private:
  struct Data {
    ModelParts parts;
    std::unordered_map<std::string, VariableIndex> index;
    std::unordered_map<std::string, std::vector<std::size_t>> with_code;  // by the code in lower case
    std::vector<std::vector<VariableIndex>> parents;
    std::vector<std::vector<VariableIndex>> children;
    std::vector<VariableIndex> order;
    std::vector<ScaledRow> scaled;
    detail::KeptText content;
  };

  std::shared_ptr<const Data> data_;
};

/// The conditional table of a variable written out in full: rows by configurations of parents_of(), last parent
/// fastest. A full table comes back as it is. Throws TooLarge if the table would have to be made and would hold
/// more than `max_entries` numbers; ArgumentError for a variable without a table (Unweighted).
[[nodiscard]] FullTable written_out(const FaultModel& model, VariableIndex variable,
                                    std::size_t max_entries = 1U << 22U);

}  // namespace faultodds

#include "faultodds/model/fault_model.ipp"
