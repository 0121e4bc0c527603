// Bodies of variable.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <type_traits>

#include "faultodds/model/errors.hpp"
#include "faultodds/model/variable.hpp"

namespace faultodds {
namespace detail {

template <Role role, class Kind>
constexpr bool is_kind_of = std::is_same_v<std::variant_alternative_t<static_cast<std::size_t>(role), RoleFacts>, Kind>;
static_assert(is_kind_of<Role::unclassified, Unclassified> && is_kind_of<Role::context, Context> &&
              is_kind_of<Role::component, Component> && is_kind_of<Role::hidden, Hidden> &&
              is_kind_of<Role::symptom, Symptom> && is_kind_of<Role::test, Test>);

[[noreturn, gnu::cold]] inline void throw_wrong_role(const Variable& variable, Role needed) {
  throw ArgumentError(variable.name,
                      "its role is " + std::string(name_of(variable.role())) + ", not " + std::string(name_of(needed)),
                      "name a variable of the role " + std::string(name_of(needed)) + ", or ask for its role first",
                      ErrorCode::wrong_role);
}

/// Of a variable or a constant one.
template <Role role, class VariableType>
[[nodiscard]] auto& part_of_role(VariableType& variable) {
  auto* const part = std::get_if<static_cast<std::size_t>(role)>(&variable.what);
  if (part == nullptr) throw_wrong_role(variable, role);
  return *part;
}

}  // namespace detail

inline const Context& Variable::context() const { return detail::part_of_role<Role::context>(*this); }
inline const Component& Variable::component() const { return detail::part_of_role<Role::component>(*this); }
inline const Symptom& Variable::symptom() const { return detail::part_of_role<Role::symptom>(*this); }
inline const Test& Variable::test() const { return detail::part_of_role<Role::test>(*this); }
inline Context& Variable::context() { return detail::part_of_role<Role::context>(*this); }
inline Component& Variable::component() { return detail::part_of_role<Role::component>(*this); }
inline Symptom& Variable::symptom() { return detail::part_of_role<Role::symptom>(*this); }
inline Test& Variable::test() { return detail::part_of_role<Role::test>(*this); }

inline const std::string& Variable::question() const noexcept {
  static const std::string none;
  if (const auto* fact = std::get_if<Context>(&what)) return fact->question;
  if (const auto* sign = std::get_if<Symptom>(&what)) return sign->question;
  if (const auto* action = std::get_if<Test>(&what)) return action->question;
  return none;
}

inline const Test& as_test(const Variable& variable) noexcept {
  static const Test none;
  const auto* test = std::get_if<Test>(&variable.what);
  return test != nullptr ? *test : none;
}

inline bool is_remainder(const Variable& variable) noexcept {
  const auto* component = std::get_if<Component>(&variable.what);
  return component != nullptr && component->remainder;
}

}  // namespace faultodds
