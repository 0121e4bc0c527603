// Jobs as JSON: options, entries and their charges, and the model they were made with. models/job.schema.json checks
// it.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "faultodds/job/job.hpp"

namespace faultodds {

/// The model that a job was made with, as its text names it.
struct JobModel {
  std::string name;
  std::string version;
  std::string content;  ///< content_check of the model

  bool operator==(const JobModel&) const = default;
};

/// How the model of a saved job may differ from the one it is read with.
struct JobReading {
  bool other_version = false;  ///< another version, or other contents under the same version, will do
};

/// A short text that differs for two models that differ, but for a chance of 1 in 2^64: the FNV-1a hash (Fowler, Noll &
/// Vo; 64 bits) of what write_model_json says. Equal models have equal ones. Worked out once for a model
/// and its copies.
[[nodiscard]] std::string content_check(const FaultModel& model);

/// The text of a job, all of it. Throws ModelError if a text is not UTF-8.
[[nodiscard]] std::string write_job(const Job& job);

/// The job of such a text: its answers are those of the job that was written, to the bit. Throws ModelError, with the
/// place of each problem, if the text is not a job of this version of the format, was made with another model, or an
/// entry does not fit; TooLarge and Stopped as inference does. `file` is only named in messages.
///
/// With another version of the model, charges stay as they were, and readings are judged by the new limits.
[[nodiscard]] Job read_job(std::string_view text, const Solver& solver, JobReading how = {},
                           const std::string& file = {});

/// The model that a job asks for. Throws ModelError if the text is not a job.
[[nodiscard]] JobModel model_of_job(std::string_view text, const std::string& file = {});

/// Whether a text is a job, of any version of the format.
[[nodiscard]] bool is_job(std::string_view text);

namespace detail {

/// The FNV-1a hash of 64 bits.
[[nodiscard]] std::uint64_t fnv1a(std::string_view text);

}  // namespace detail

}  // namespace faultodds

#include "faultodds/io/job_json_read.ipp"
#include "faultodds/io/job_json_write.ipp"
