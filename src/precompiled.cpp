// Every header with its bodies, compiled once, for the library faultodds::precompiled.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/faultodds.hpp"
#include "faultodds/io/io.hpp"
#include "faultodds/report/report.hpp"
