# SPDX-License-Identifier: BSD-3-Clause
"""What of the public C++ face is not in Python under the same name, and why. The parity test allows nothing else."""

HAND_WRITTEN: dict[str, str] = {
    "Finding": "Python gives either a state or weights, by their names",
    "JointPosterior": "makes its many records only when they are asked for",
    "Explanation": "its states have names by the variables of the Explanations around it",
    "Explanations": "a sequence of records, as all results are",
    "SampledPosteriors": "a record for each state, with names",
    "CaseAnswers": "arrays of NumPy",
    "Repaired": "holds a Case, which has a lock of its own in Python",
    "Problem": "a fact of ModelError, beside it in errors.py",
}
"""Records that Python has by the same name, written by hand."""

NOT_IN_PYTHON: dict[str, str] = {
    **HAND_WRITTEN,
    "FullTable": "FaultModel.written_out gives the table as TableRow records",
    "Gate": "Python has {variable: states}",
    "Link": "part of a table: FaultModel.written_out",
    "NoisyMax": "part of a table: FaultModel.written_out",
    "CountOf": "part of a table: FaultModel.written_out",
    "Examination": "part of a table: FaultModel.written_out",
    "Unweighted": "part of a table: FaultModel.written_out",
    "Potential": "model files and FaultModel.to_dict hold it",
    "ModelParts": "the members of FaultModel give its parts, ModelBuilder and from_dict take them",
    "WorkCost": "TestForecast, SecondTest and TestBatch hold its numbers",
    "CaseRows": "columns of findings: see answer_cases",
    "SetUpWork": "PolicyNode and PricedStep hold its numbers",
    "GateState": "unmet_preconditions and is_ruled_out say it",
    "ModelFormat": "read_model and write_model go by the ending of the file",
    "ClashingFinding": "ImpossibleFindings.findings holds Finding records",
    "StopOptions": "the keyword arguments of stopping",
    "Clique": "mechanics of the junction tree",
    "TreeShape": "mechanics of the junction tree",
}

FUNCTIONS_BY_HAND: dict[str, str] = {
    "answer_cases": "columns of a data frame or arrays: batch.py",
}
"""Functions that Python has by the same name, written by hand."""

WORK_COST = "costs of tests and repairs are in the records that name them"

FUNCTIONS_NOT_IN_PYTHON: dict[str, str] = {
    "finding_of": "Case.finding_of",
    "parents_of": "FaultModel.parents",
    "written_out": "FaultModel.written_out",
    "edit_distance": "UnknownName.nearest holds what it is for",
    "nearest_names": "UnknownName.nearest holds what it is for",
    "lower_case": "str.lower is there",
    "shown": "labels in Python are what is shown",
    "asked": "Variable.question, or the label if that is empty",
    "as_test": "TestForecast and AdvisedStep hold what any variable costs as a test",
    "is_remainder": "Variable.component.remainder",
    "describe": "ImpossibleFindings.clash holds such texts",
    "can_mend": "Repair.component and Repair.mends say it",
    "smallest_clash": "ImpossibleFindings.clash holds it",
    "cost_of": WORK_COST,
    "conditions_of": WORK_COST,
    "after_work": WORK_COST,
    "in_place_in": WORK_COST,
    "tools_of": WORK_COST,
    "require_known": "every function that takes Means calls it",
    "beyond_means": "Ranking.left_out says it",
    "cautions_of": "TestForecast.cautions",
    "skill_of": WORK_COST,
    "not_sound": "weigh_evidence without states",
    "claim_in_words": "Evidence.text",
    "explain_in_words": "Evidence.text and Conflict.text",
    "faults_of": "Explanation.faults",
    "state_of": "unmet_preconditions and is_ruled_out say it",
    "validate": "every function that takes a problem calls it",
    "set_up_work": "PolicyNode.set_ups and PolicyNode.step_cost",
    "fixed_order_policy": "fixed_order_policy_tree; a policy in Python is a function",
    "greedy_policy": "greedy_policy_tree; a policy in Python is a function",
    "look_ahead_policy": "look_ahead_policy_tree; a policy in Python is a function",
    "proposed_among": "Weighing.proposed",
    "format_of": "read_model and write_model go by the ending of the file",
    "lost_in": "write_model returns it",
    "uai_names_path": "write_model writes that file",
    "flow_chart_texts": "CaseProblem.texts; a problem without texts uses its names",
    "require_counted_once": "Job calls it; counted_twice says it",
    "name_of": "Error.code is the name already",
    "check_of": "Repair.verification, and FaultModel.verification for those without",
    "kind_of": "the type of a step or an entry says it",
    "described": "Advice holds the steps with all that is shown of them",
    "test_done": "Entry.what says it",
    "entry_label": "Entry.label",
    "entry_in_words": "Entry.text",
    "ledger_of": "Job.ledger",
    "charge_of": WORK_COST,
    "report_of": "Job.report",
    "sorted_faults": "JobReport.faults holds them",
    "make_tree_shape": "mechanics of the junction tree",
}

MEMBERS_NOT_IN_PYTHON: dict[str, str] = {
    "FaultModel.parts": "tools, skills, access and the like are members of their own",
    "FaultModel.state_count": "len(model.states(name))",
    "FaultModel.index_of": "Python goes by names",
    "FaultModel.find": "name in model",
    "FaultModel.kept_content": "mechanics of saving a job",
    "FaultModel.state_of": "Python goes by names",
    **{
        f"FaultModel.{how}_{what}": "Python goes by names"
        for how in ("find", "index_of")
        for what in ("repair", "access", "condition", "tool", "skill", "caution", "hand_over")
    },
    "Solver.shared_tree": "mechanics of the junction tree",
    "Solver.junction_tree_for": "mechanics of the junction tree",
    "Solver.link_weights": "mechanics of the junction tree",
    "Solver.of_links": "mechanics of rankings",
    "Solver.always_wanted": "mechanics of the junction tree",
    "Case.try_findings": "catch ImpossibleFindings",
    "Case.posterior_view": "posterior: Python copies",
    "Case.joint_at_hand": "joint",
    "Case.batched_reweighing": "mechanics of rankings",
    "Case.stop": "stopping and time_limit",
    "Job.record": "the members for each kind of entry",
    "Job.restore": "Job.from_json",
    "Name": "text in Python",
    "Table": "FaultModel.written_out gives the rows",
    "Stop": "stopping and time_limit",
    "StopScope": "stopping and time_limit",
}
"""Members of classes, and classes as a whole."""
