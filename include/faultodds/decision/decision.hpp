// What to do next and why: ranked tests, priced steps, policy trees, evidence, what work costs.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include "faultodds/decision/evidence/counted_once.hpp"
#include "faultodds/decision/evidence/evidence.hpp"
#include "faultodds/decision/evidence/evidence_of_test.hpp"
#include "faultodds/decision/evidence/evidence_words.hpp"
#include "faultodds/decision/planning/case_problem.hpp"
#include "faultodds/decision/planning/cost_bounds.hpp"
#include "faultodds/decision/planning/hypotheses.hpp"
#include "faultodds/decision/planning/information_bounds.hpp"
#include "faultodds/decision/planning/optimal_policy.hpp"
#include "faultodds/decision/planning/policies.hpp"
#include "faultodds/decision/planning/policy_tree.hpp"
#include "faultodds/decision/planning/repair_order.hpp"
#include "faultodds/decision/planning/repaired.hpp"
#include "faultodds/decision/planning/troubleshooting.hpp"
#include "faultodds/decision/ranking/look_ahead.hpp"
#include "faultodds/decision/ranking/preconditions.hpp"
#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/decision/ranking/test_batch.hpp"
#include "faultodds/decision/work/cost.hpp"
#include "faultodds/decision/work/means.hpp"
