package field

import (
	"encoding/json"
	"fmt"
	"testing"
)

// Properties are told as who chooses needs them: how many fields have one, whether it tells them apart, what stands in it.
func TestProperties(t *testing.T) {
	of := func(pairs ...string) (f Field) {
		for i := 0; i < len(pairs); i += 2 {
			f.Attributes = append(f.Attributes, Attribute{pairs[i], json.RawMessage(pairs[i+1])})
		}
		return f
	}
	got := Properties([]Field{
		of("TRACT", `"014"`, "acres", `12.0`, "note", `null`, "list", `[1]`),
		of("tract", `"015"`, "acres", `12`, "owner", `"  "`),
		of("Tract", `"014"`, "owner", `"A very long name of an owner indeed"`, "acres", `3.5`),
	})
	want := `[{TRACT 3 true [014 015]} {acres 3 true [12 3.5]} {owner 1 false [A very long name of an o…]}]`
	if fmt.Sprint(got) != want {
		t.Errorf("%v\nwant %s", got, want)
	}
	if got := Properties(nil); len(got) != 0 {
		t.Errorf("of nothing: %v", got)
	}
}
