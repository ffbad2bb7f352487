package proj

import (
	"io/fs"
	"os"
	"strings"
	"testing"
)

// TestRealPrjFiles reads every .prj of the real survey exports: all are WGS 84 longitude and latitude.
func TestRealPrjFiles(t *testing.T) {
	const root = "../../../../shared/data"
	if _, err := os.Stat(root); err != nil {
		t.Skip("no real data at ../shared/data beside the repository")
	}
	seen := 0
	err := fs.WalkDir(os.DirFS(root), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(strings.ToLower(path), ".prj") {
			return err
		}
		text, err := os.ReadFile(root + "/" + path)
		if err != nil {
			return err
		}
		seen++
		if crs, err := Parse(string(text)); err != nil || crs.String() != "EPSG:4326" || crs.Note() != "" {
			t.Errorf("%s: %v (%s), %v", path, crs, crs.Note(), err)
		}
		return nil
	})
	if err != nil || seen == 0 {
		t.Errorf("%d .prj files read, %v", seen, err)
	}
}
