// A workshop with access, conditions, codes, a gauge, repairs and a specialist, for statements about jobs. Invented.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "faultodds/io/model_json.hpp"
#include "faultodds/job/job.hpp"

namespace support {

using namespace faultodds;

/// Labour costs 60 an hour, 1 a minute. The hose is behind the undertray, the undertray behind the lift; amounts are
/// chosen so that no two sums of them agree.
inline FaultModel workshop() {
  return read_model_json(R"({"format": "faultodds-model", "format_version": 1, "name": "workshop", "title": "Leaks",
    "version": "3", "currency": "EUR", "labour_rate": 60, "invented_data": true,
    "skills": [{"name": "learner"}, {"name": "mechanic"}], "tools": [{"name": "gauge"}],
    "cautions": [{"name": "scald", "label": "Scalding", "text": "Let it cool."}, {"name": "crush", "label": "Crushing"}],
    "conditions": [
      {"name": "cold", "group": "engine", "minutes": 1, "wait_minutes": 120, "money": 0.5},
      {"name": "hot", "label": "engine hot", "group": "engine", "minutes": 13, "money": 2},
      {"name": "in_bay", "group": "place", "at_start": true, "minutes": 4}],
    "access": [
      {"name": "lift", "label": "lift up", "minutes": 8, "conditions": ["in_bay"], "cautions": ["crush"]},
      {"name": "undertray", "label": "undertray off", "minutes": 11, "money": 3, "needs": ["lift"]}],
    "context": [{"name": "layout", "states": ["inline", "vee"], "prior": 0.25}],
    "components": [{"name": "pump", "label": "pump", "states": ["sound", "worn", "dead"], "prior": {"worn": 0.2, "dead": 0.1}},
                   {"name": "hose", "label": "hose", "prior": 0.15}],
    "symptoms": [
      {"name": "puddle", "label": "puddle", "complaint": true,
       "noisy_or": {"leak": 0.02, "causes": [{"of": "pump", "strength": {"worn": 0.6, "dead": 0.8}}, {"of": "hose", "strength": 0.9}]}},
      {"name": "code_1", "label": "code P1001", "code": "P1001", "noisy_or": {"leak": 0.01, "causes": [{"of": "pump", "strength": {"worn": 0.3, "dead": 0.9}}]}},
      {"name": "code_2", "label": "code P1002", "code": "P1002", "noisy_or": {"leak": 0.01, "causes": [{"of": "hose", "strength": 0.5}]}}],
    "tests": [
      {"name": "read_codes", "label": "read the codes", "states": ["none", "some"], "reveals": ["code_1", "code_2"],
       "table": {"given": ["pump", "hose"], "rows": [
         {"when": {"pump": "sound", "hose": "sound"}, "p": 0.02}, {"when": {"pump": "worn", "hose": "sound"}, "p": 0.3},
         {"when": {"pump": "dead", "hose": "sound"}, "p": 0.9}, {"when": {"pump": "sound", "hose": "faulty"}, "p": 0.5},
         {"when": {"pump": "worn", "hose": "faulty"}, "p": 0.65}, {"when": {"pump": "dead", "hose": "faulty"}, "p": 0.95}]},
       "minutes": 4, "money": 0},
      {"name": "leak", "label": "look for leaks", "examines": {"component": "hose", "detects": 0.9, "false_alarm": 0.1},
       "minutes": 7, "money": 0, "access": ["undertray"], "conditions": ["hot"]},
      {"name": "level", "label": "level", "examines": {"component": "pump", "detects": 0.6, "false_alarm": 0.2},
       "minutes": 2, "money": 0, "conditions": ["cold"]},
      {"name": "pressure", "label": "pressure", "states": ["good", "low"],
       "table": {"given": ["pump"], "rows": [{"when": {"pump": "sound"}, "p": 0.05}, {"when": {"pump": "worn"}, "p": 0.7}, {"when": {"pump": "dead"}, "p": 0.97}]},
       "reading": {"quantity": "pressure", "unit": "kPa", "gauge_error": 4,
                   "limits": [{"outcome": "low", "below": 280}, {"outcome": "good", "from": 280}]},
       "minutes": 6, "money": 1, "tools": ["gauge"]}],
    "repairs": [
      {"name": "replace_pump", "label": "replace the pump", "component": "pump", "success": 0.97, "minutes": 30, "money": 100, "access": ["undertray"]},
      {"name": "replace_hose", "label": "replace the hose", "component": "hose", "success": 0.99, "minutes": 17, "money": 21, "access": ["undertray"]}],
    "hand_overs": [{"name": "shop", "label": "The leak shop", "money": 200, "wait_minutes": 1440, "tells": "sees it in dye"}],
    "verification": {"label": "is it dry?", "minutes": 5, "wait_minutes": 10, "conditions": ["hot"], "false_cured": 0.04, "false_still_there": 0.02},
    "comeback": {"money": 150}
  })");
}

/// All kinds of entries in one job.
inline Job long_job(JobOptions options = {}) {
  Job job(workshop(), std::move(options));
  job.add_finding("layout", "vee");
  job.add_finding("puddle", "present");
  job.add_revealed("read_codes", std::vector<std::string>{"code_1"});
  job.decline("level", "no time");
  job.add_reading("pressure", "41 psi; 283 kPa");
  job.add_in_place({{"lift"}, {}});
  job.add_finding("leak", "good");
  job.add_repair("replace_pump", CheckResult::still_there);
  job.add_finding("hose", "faulty");
  job.add_repair("replace_hose", CheckResult::cured);
  job.hand_over("shop");
  job.close(JobEnd::cured, {{.component = job.model().index_of("hose"), .state = 1, .by = ConfirmedBy::sight}},
            "pump was good");
  return job;
}

/// P(findings) and all posteriors: what must agree to the bit.
[[nodiscard]] inline std::vector<std::vector<double>> bits_of(const Case& current) {
  std::vector<std::vector<double>> all = current.posteriors();
  all.push_back({current.log_evidence()});
  return all;
}

}  // namespace support
