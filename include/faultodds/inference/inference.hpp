// Posteriors: solvers, cases, findings, readings, explanations, samples.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include "faultodds/inference/batch.hpp"
#include "faultodds/inference/case.hpp"
#include "faultodds/inference/conditioning.hpp"
#include "faultodds/inference/explanations.hpp"
#include "faultodds/inference/reading.hpp"
#include "faultodds/inference/sampling.hpp"
#include "faultodds/inference/solver.hpp"
