// Everything but files (io/) and reports (report/): fault models, posteriors, the next test.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include "faultodds/decision/decision.hpp"
#include "faultodds/inference/inference.hpp"
#include "faultodds/job/advice.hpp"
#include "faultodds/job/entry.hpp"
#include "faultodds/job/entry_words.hpp"
#include "faultodds/job/job.hpp"
#include "faultodds/job/job_step.hpp"
#include "faultodds/job/ledger.hpp"
#include "faultodds/job/opening_questions.hpp"
#include "faultodds/job/report_data.hpp"
#include "faultodds/model/model.hpp"
