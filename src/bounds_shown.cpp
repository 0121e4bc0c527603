// SPDX-License-Identifier: BSD-3-Clause
#include "bounds_shown.hpp"

#include <iostream>
#include <utility>

#include "faultodds/model/wording.hpp"
#include "text.hpp"

namespace faultodds::program {
namespace {

constexpr std::chrono::milliseconds pause{500};
constexpr const char* clear_line = "\r\x1b[K";

}  // namespace

BoundsShown::BoundsShown(bool on_terminal, std::string currency)
    : on_terminal_(on_terminal), currency_(std::move(currency)), next_(Clock::now() + pause) {}

void BoundsShown::show(const Progress& progress) {
  last_ = progress;
  if (Clock::now() < next_) return;
  next_ = Clock::now() + pause;
  write();
  shown_ = true;
}

void BoundsShown::end() {
  if (!shown_) return;
  if (on_terminal_) {
    std::cerr << clear_line << std::flush;
  } else {
    write();
  }
}

void BoundsShown::write() const {
  if (on_terminal_) std::cerr << clear_line;
  std::cerr << counted(last_.done, "step") << ": the best plan costs between "
            << wording::exact_money(last_.lower_bound, currency_) << " and "
            << wording::exact_money(last_.upper_bound, currency_);
  std::cerr << (on_terminal_ ? "; Ctrl-C ends the search" : "\n") << std::flush;
}

}  // namespace faultodds::program
