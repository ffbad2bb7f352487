package main

import (
	"slices"
	"testing"
)

// Faults name files by their last part, and by their folders too where two files are called alike.
func TestShortNames(t *testing.T) {
	for _, tc := range []struct{ typed, want []string }{
		{[]string{"/data/farm/fields.geojson", "survey/AR017.zip"}, []string{"fields.geojson", "AR017.zip"}},
		{[]string{"/data/a/fields.geojson", "/data/b/fields.geojson"}, []string{"a/fields.geojson", "b/fields.geojson"}},
		{[]string{"a/x/fields.geojson", "b/x/fields.geojson", "c/my-fields.geojson"}, []string{"a/x/fields.geojson", "b/x/fields.geojson", "my-fields.geojson"}},
		{[]string{`C:\farm\a\f.zip`, `C:\farm\b\f.zip`}, []string{"a/f.zip", "b/f.zip"}},
		{[]string{"f.zip", "a/f.zip", "f.zip"}, []string{"f.zip", "a/f.zip", "f.zip"}},
		{[]string{"/f.zip", "//f.zip", "a/b/", "c/b"}, []string{"f.zip", "f.zip", "a/b", "c/b"}},
	} {
		if got := shortNames(tc.typed); !slices.Equal(got, tc.want) {
			t.Errorf("shortNames(%q) = %q, want %q", tc.typed, got, tc.want)
		}
	}
}
