package ssurgo_test

import (
	"bytes"
	"context"
	"testing"
	"testing/fstest"

	"rootworthy/internal/diag"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
)

// FuzzTables puts hostile bytes in place of one table of a sound export. Refusing is fine; a panic, a hang, or a
// survey that changes from one reading to the next is not, nor are units out of order.
func FuzzTables(f *testing.F) {
	tables := []string{"legend", "sacatlog", "mapunit", "comp", "chorizon", "chtexgrp", "chtextur", "crstrcts", "cmonth", "csmoist", "mstab", "mstabcol"}
	base := excerpt(f)
	for _, file := range base { // whole records, few: the fuzzed table is what matters
		head := file.Data[:min(len(file.Data), 2000)]
		file.Data = head[:bytes.LastIndexByte(head, '\n')+1]
	}
	for i, table := range tables {
		if file := base["tabular/"+table+".txt"]; file != nil {
			f.Add(uint8(i), file.Data)
		}
	}
	f.Add(uint8(11), []byte("\"mapunit\"|4000|\"mukey\"|||||||||||\n\"mapunit\"|1|\"lkey\"|||||||||||\n"))
	f.Add(uint8(3), []byte("\"V1\"|\"V2\"\n\"\\\"|||"))
	f.Fuzz(func(t *testing.T, which uint8, data []byte) {
		table := tables[int(which)%len(tables)]
		export := fstest.MapFS{}
		for name, file := range base {
			export[name] = file
		}
		export["tabular/"+table+".txt"] = &fstest.MapFile{Data: data}
		first, second := fuzzRead(t, export), fuzzRead(t, export)
		if !same(first, second) {
			t.Error("two readings differ")
		}
		if first == nil {
			return
		}
		for i := range first.Units {
			soils.Aggregate(&first.Units[i])
		}
	})
}

// fuzzRead allows an error where nothing is found; once opened, wrong content is a matter of faults.
func fuzzRead(t *testing.T, export fstest.MapFS) *soils.Survey {
	var faults diag.List
	e, err := ssurgo.Open(context.Background(), "X", export, &faults)
	if err != nil {
		return nil
	}
	s, err := e.Survey(context.Background())
	if err != nil {
		t.Fatalf("an error for wrong content: %v", err)
	}
	return s
}
