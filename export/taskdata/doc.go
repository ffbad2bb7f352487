// Package taskdata writes the lime of a run as ISO 11783-10 task data, the file that a spreader's controller takes its
// rates from, and reads such files back.
//
// A plan is made first: which ground gets which rate in this pass, with what the spreader can do taken into account.
// Then the plan is cut into cells (or kept as polygons) and written:
//
//	plan, err := taskdata.NewPlan(result, taskdata.Options{Machine: taskdata.Machine{Width: 18}})
//	for _, name := range plan.Files() {
//		err = plan.WriteFile(name, w) // "TASKDATA/TASKDATA.XML", "TASKDATA/GRD00001.bin", …, load sheet
//	}
//
// Rates from a survey alone are refused: see [UntestedError]. [Read] takes any task data apart, of version 3 or 4, in a
// folder or a zip, and says what is wrong with it.
//
// Rates stand in whole milligrams per square metre (data dictionary identifier 6), cells run from the south-west corner
// eastward and then northward. Where the standard leaves room, what terminals are known to take was chosen; the reason
// stands beside each choice.
package taskdata
