// Package feature is what the codecs of polygon layers share: one feature as a reader hands it on, and columns and
// rows as a writer takes them.
//
// A reader keeps attributes in the order of the file and as JSON, so that a number keeps its digits:
//
//	f := feature.Feature{Index: 0, ID: "H1", Properties: []feature.Property{{Name: "acres", Value: feature.JSON(12.5)}}}
//	fmt.Println(f.Label(), f.Text("ACRES")) // feature 1, id "H1" 12.5
//
// A writer takes [Rows]: a shape and a value for each [Column]. [Check] refuses values that are not of their column's
// type, [Ready] turns rings the way most formats want them.
package feature
