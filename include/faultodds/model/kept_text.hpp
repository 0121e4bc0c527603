// A text that is worked out once.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <mutex>
#include <optional>
#include <string>

namespace faultodds::detail {

/// A text that is worked out when it is first asked for, and kept. Any number of threads may ask at once.
class KeptText {
 public:
  /// The text; `make` works it out. If it throws, nothing is kept.
  template <class Make>
  [[nodiscard]] const std::string& get(const Make& make) const {
    const std::lock_guard lock(mutex_);
    if (!text_) text_ = make();
    return *text_;
  }

 private:
  mutable std::mutex mutex_;
  mutable std::optional<std::string> text_;
};

}  // namespace faultodds::detail
