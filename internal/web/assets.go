package web

import (
	"embed"
	"net/http"
	"path"
	"strings"
)

//go:embed templates/*.html
var templateFiles embed.FS

//go:embed assets
var assetFiles embed.FS

// assetTypes are set here because the table of a machine may say otherwise, and a browser runs no module of another type.
var assetTypes = map[string]string{".mjs": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8", ".txt": "text/plain; charset=utf-8", ".svg": "image/svg+xml"}

// assets serves what is built into the program, single files only.
func assets() http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		name := strings.TrimPrefix(r.URL.Path, "/")
		kind, ok := assetTypes[path.Ext(name)]
		text, err := assetFiles.ReadFile(name)
		if !ok || err != nil {
			http.NotFound(w, r)
			return
		}
		w.Header().Set("Content-Type", kind)
		w.Write(text)
	})
}
