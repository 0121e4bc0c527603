// What work on a junction tree needs beside it, kept from one question to the next.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <memory>
#include <mutex>
#include <utility>
#include <vector>

namespace faultodds::detail {

class TreeBatch;

/// Workspaces that nobody works with at the moment. What is in one changes no answer. Any thread may take one and put
/// it back.
class Workspaces {
 public:
  /// Null if there is none.
  [[nodiscard]] std::shared_ptr<TreeBatch> take() {
    const std::scoped_lock lock(mutex_);
    if (idle_.empty()) return nullptr;
    std::shared_ptr<TreeBatch> taken = std::move(idle_.back());
    idle_.pop_back();
    return taken;
  }

  void put(std::shared_ptr<TreeBatch> workspace) noexcept {
    const std::scoped_lock lock(mutex_);
    if (idle_.size() < idle_.capacity()) idle_.push_back(std::move(workspace));
  }

 private:
  static constexpr std::size_t most = 4;

  static std::vector<std::shared_ptr<TreeBatch>> room() {
    std::vector<std::shared_ptr<TreeBatch>> made;
    made.reserve(most);
    return made;
  }

  std::mutex mutex_;
  std::vector<std::shared_ptr<TreeBatch>> idle_ = room();
};

}  // namespace faultodds::detail
