// What a fault model says: variables, tables, tests, repairs, units, validation, lint.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include "faultodds/model/errors.hpp"
#include "faultodds/model/fault_model.hpp"
#include "faultodds/model/lint.hpp"
#include "faultodds/model/names.hpp"
#include "faultodds/model/stop.hpp"
#include "faultodds/model/table.hpp"
#include "faultodds/model/unit.hpp"
#include "faultodds/model/variable.hpp"
#include "faultodds/model/wording.hpp"
#include "faultodds/model/work.hpp"
