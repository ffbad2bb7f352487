// Package flatgeobuf reads and writes polygon layers in FlatGeobuf, a binary format with a spatial index in front, so
// that a program can fetch a window of a layer.
//
//	l, err := flatgeobuf.Open("zones.fgb", r, faults)
//	err = l.Features(func(f feature.Feature) error { … }) // in the order of the file, which is that of the index
//
//	err = flatgeobuf.Write(w, flatgeobuf.Content{Name: "zones", Columns: columns, Rows: rows})
//
// Reading is one pass and passes over the index. No count or offset in a file is believed beyond the bytes that were
// read: see maxHeader and maxFeature.
//
// Sources: FlatGeobuf specification 3.0 (https://flatgeobuf.org/, https://github.com/flatgeobuf/flatgeobuf: README.md,
// header.fbs, feature.fbs; the numbers of fields and types are those of these schemas); FlatBuffers internals
// (https://flatbuffers.dev/internals/). The index: packed Hilbert R-tree as in the same repository, compared with two
// other readers in tests.
package flatgeobuf
