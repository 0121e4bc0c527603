// Tests to do together: behind one access job, on one drive, or for one visit to a specialist, before any outcome is
// looked at.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "faultodds/decision/ranking/rank_tests.hpp"

namespace faultodds {

struct TestBatchOptions {
  RankOptions ranking{};          ///< targets, tests to choose from; by gain_per_cost, gain or gain_per_minute
  Means means{};                  ///< tests beyond them are left out
  std::string access;             ///< only tests behind this access job; empty: any
  std::string condition;          ///< only tests that need this condition; empty: any
  std::size_t max_tests = 6;      ///< in the batch
  std::size_t max_outcomes = 64;  ///< combinations of outcomes of the batch that are gone through
};

/// A test of a batch, in the order in which the batch was put together.
struct BatchedTest {
  VariableIndex test;
  double gain_bits = 0.0;  ///< what the batch tells up to this test, jointly
  double cost = 0.0;       ///< what it costs up to this test
};

/// What ends a batch.
enum class BatchEnd {
  no_test_left,  ///< none of the others tells anything more
  not_worth_it,  ///< each of the others would lower what the batch tells for its cost
  max_tests,     ///< the limit of the options
  max_outcomes,  ///< the limit of the options: some other test was worth it, but would lead beyond
};

/// Tests to do together before any outcome is looked at: what they tell and cost together.
struct TestBatch {
  std::vector<VariableIndex> targets;  ///< the faults in question
  std::vector<BatchedTest> chosen;     ///< empty if no test tells anything
  std::vector<VariableIndex> order;    ///< to do them in, so that conditions seldom change
  double gain_bits = 0.0;              ///< I(targets; outcomes of all of them | findings)
  double minutes = 0.0;                ///< of all, set-ups counted once
  double money = 0.0;
  double cost = 0.0;
  double wait_minutes = 0.0;
  double gain_per_cost = 0.0;
  std::vector<std::string> opens;   ///< access jobs, in the order they are done
  std::vector<std::string> brings;  ///< conditions, in the order they are brought about
  BatchEnd end = BatchEnd::no_test_left;
  std::vector<LeftOut> left_out;  ///< for tools, skill, preconditions, or a joint table that is too large
};

/// Puts a batch together greedily: begins with the best test by `ranking.by` with all the set-ups it needs, and goes on
/// with the one that makes the batch best, as long as that makes it better. What a batch tells is exact, I(F; T1 ... Tk
/// | findings) by the chain rule over the combinations of outcomes; which set is best is not: a greedy choice need not
/// be the best set. Throws as rank_tests does; UnknownName for an access job or condition that the model does not know;
/// ArgumentError if the batch is to go by cost, which would be no test at all.
[[nodiscard]] TestBatch best_batch(const Case& current, const TestBatchOptions& options = {}, const Stop& stop = {});

}  // namespace faultodds

#include "faultodds/decision/ranking/test_batch.ipp"
