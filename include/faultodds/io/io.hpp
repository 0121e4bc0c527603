// Everything that reads and writes files.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include "faultodds/io/bif.hpp"
#include "faultodds/io/dot.hpp"
#include "faultodds/io/job_json.hpp"
#include "faultodds/io/model_file.hpp"
#include "faultodds/io/model_json.hpp"
#include "faultodds/io/text_file.hpp"
#include "faultodds/io/text_places.hpp"
#include "faultodds/io/uai.hpp"
#include "faultodds/io/xmlbif.hpp"
