// Package job knows the order of the steps, and it alone: boundaries and a survey go in, rated zones with their lime
// come out. The command line, the page and every other caller run the same job.
//
//	fields ─┐
//	        ├─▶ plane ─▶ overlay ─▶ zones ─▶ rating ─▶ lime ─▶ suitability.Result
//	survey ─┘
//
// Every arrow is a pure function of its input; nothing here opens a file, reads a clock or prints. The result does not
// depend on the number of workers or the order of the survey's records; fields keep the order of the input.
package job
