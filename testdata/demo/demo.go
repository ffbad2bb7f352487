// Package demo carries the invented farm Tarn Hollow with its invented soil survey, in the forms that real data come
// in. It lies on open sea, so that nobody's ground can be meant. The folder gen draws it.
package demo

import "embed"

// Files holds fields.geojson and the survey export below survey/.
//
//go:embed fields.geojson survey
var Files embed.FS
