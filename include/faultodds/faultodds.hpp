// Everything but the files: fault models, posteriors, the next test. Reading and writing files is faultodds/io.
#pragma once

#include "faultodds/decision/look_ahead.hpp"
#include "faultodds/decision/rank_tests.hpp"
#include "faultodds/inference/batch.hpp"
#include "faultodds/inference/case.hpp"
#include "faultodds/inference/explanations.hpp"
#include "faultodds/inference/reading.hpp"
#include "faultodds/inference/sampling.hpp"
#include "faultodds/inference/solver.hpp"
#include "faultodds/model/errors.hpp"
#include "faultodds/model/fault_model.hpp"
#include "faultodds/model/lint.hpp"
#include "faultodds/model/names.hpp"
#include "faultodds/model/table.hpp"
#include "faultodds/model/unit.hpp"
#include "faultodds/model/variable.hpp"
