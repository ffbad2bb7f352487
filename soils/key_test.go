package soils

import (
	"slices"
	"testing"
)

// Keys are numbers that files write as text; as text alone, 1674436 would come before 565250. What is no number comes last.
func TestCompareKeys(t *testing.T) {
	got := []string{"b", "1674436", "541954:786466", "99", "099", "565250", "", "a"}
	want := []string{"099", "99", "565250", "1674436", "", "541954:786466", "a", "b"}
	slices.SortFunc(got, CompareKeys)
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}
