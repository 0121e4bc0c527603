// Bodies of wording.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <array>
#include <charconv>
#include <cmath>
#include <cstddef>

#include "faultodds/model/wording.hpp"

namespace faultodds::wording {

inline std::string fixed(double value, int digits) {
  std::array<char, 400> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::fixed, digits);
  std::string text(buffer.data(), end.ptr);
  const bool is_zero = text.find_first_of("123456789") == std::string::npos && std::isfinite(value);
  return is_zero && text.front() == '-' ? text.substr(1) : text;
}

inline std::string number(double value, int digits) {
  std::string text = fixed(value, digits);
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

inline std::string percent(double probability) {
  if (probability <= 0.0) return "0 %";
  if (probability >= 1.0) return "100 %";
  if (probability < 0.001) return "<0.1 %";
  if (probability > 0.999) return ">99.9 %";
  const bool middling = probability >= 0.0995 && probability < 0.985;
  return fixed(100.0 * probability, middling ? 0 : 1) + " %";
}

inline std::string exact_money(double amount, std::string_view currency) {
  const std::string text = fixed(amount, 2);
  return currency.empty() ? text : text + ' ' + std::string(currency);
}

inline std::string joined(const std::vector<std::string>& parts, std::string_view separator) {
  std::string text;
  for (std::size_t i = 0; i < parts.size(); ++i) text.append(i == 0 ? std::string_view() : separator).append(parts[i]);
  return text;
}

}  // namespace faultodds::wording
