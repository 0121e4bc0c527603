// Numbers and lists as people read them.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace faultodds::wording {

/// A number with exactly `digits` decimals; never minus zero.
[[nodiscard]] std::string fixed(double value, int digits);
/// A number rounded to `digits` decimals, without trailing zeros.
[[nodiscard]] std::string number(double value, int digits = 2);
/// A percentage with sensible digits. Never "0 %" for what is possible, nor "100 %" for what is not certain.
[[nodiscard]] std::string percent(double probability);
/// Money to the hundredth, with the name of the currency if there is one.
[[nodiscard]] std::string exact_money(double amount, std::string_view currency);
/// The parts one after the other, with `separator` between them.
[[nodiscard]] std::string joined(const std::vector<std::string>& parts, std::string_view separator);

}  // namespace faultodds::wording

#include "faultodds/model/wording.ipp"
