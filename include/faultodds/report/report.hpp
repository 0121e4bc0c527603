// Everything that people read: reports, flow charts, pictures.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include "faultodds/report/flow_chart.hpp"
#include "faultodds/report/flow_chart_of_case.hpp"
#include "faultodds/report/job_report.hpp"
#include "faultodds/report/text_escaping.hpp"
#include "faultodds/report/text_width.hpp"
