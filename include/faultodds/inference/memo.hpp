// What others work out from a model, kept with its solver.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <map>
#include <memory>
#include <mutex>
#include <utility>
#include <vector>

namespace faultodds::detail {

/// Things that follow from a model and a key alone, so that it makes no difference who made them, and when. Any thread
/// may ask.
class Memo {
 public:
  using Key = std::vector<std::size_t>;

  /// What was kept under this key, always of the same type; otherwise what `make()` returns, which is kept as long as
  /// there is room.
  template <class T, class Make>
  [[nodiscard]] std::shared_ptr<const T> get(const Key& key, const Make& make) {
    {
      const std::scoped_lock lock(mutex_);
      if (const auto found = kept_.find(key); found != kept_.end())
        return std::static_pointer_cast<const T>(found->second);
    }
    auto made = std::make_shared<const T>(make());
    const std::scoped_lock lock(mutex_);
    if (kept_.size() < max_kept) kept_.emplace(key, made);
    return made;
  }

 private:
  static constexpr std::size_t max_kept = 1U << 12U;

  std::mutex mutex_;
  std::map<Key, std::shared_ptr<const void>> kept_;
};

}  // namespace faultodds::detail
