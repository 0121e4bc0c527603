// SPDX-License-Identifier: BSD-3-Clause
#include "amounts.hpp"

#include <cmath>
#include <string>

#include "text.hpp"

namespace faultodds::program {

CLI::Validator amount() {
  return {[](std::string& text) {
            double value = 0.0;
            const bool is_number = CLI::detail::lexical_cast(text, value) && std::isfinite(value) && value >= 0.0;
            return is_number ? std::string()
                             : "\"" + printable(text) + "\" is not an amount; give a number of at least 0";
          },
          "", "amount"};
}

void add_end_options(CLI::App& command, EndCosts& costs) {
  command
      .add_option("--hand-over", costs.hand_over,
                  "All that handing over costs (default: what the cheapest of the model does)")
      ->check(amount())
      ->option_text("COST");
  command
      .add_option("--live-with", costs.live_with, "Cost of leaving the complaint as it is (default: that of the model)")
      ->check(amount())
      ->option_text("COST");
  command
      .add_option("--comeback", costs.comeback,
                  "Cost of a vehicle that leaves as cured and is not (default: that of the model)")
      ->check(amount())
      ->option_text("COST");
}

}  // namespace faultodds::program
