package ssurgo_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"rootworthy/soils"
)

// header returns a header row for a table of the excerpt: names where a test needs them, else x1, x2, ….
func withHeader(export fstest.MapFS, table, header string) {
	f := export["tabular/"+table+".txt"]
	f.Data = append([]byte(header+"\r\n"), f.Data...)
}

const mapunitHeader = `"musym"|"muname"|"mukind"|"mustatus"|"muacres"|"mapunitlfw_l"|"mapunitlfw_r"|"mapunitlfw_h"|"mapunitpfa_l"|"mapunitpfa_r"|` +
	`"mapunitpfa_h"|"farmlndcl"|"muhelcl"|"muwathelcl"|"muwndhelcl"|"interpfocus"|"invesintens"|"iacornsr"|"nhiforsoigrp"|"nhspiagr"|` +
	`"vtsepticsyscl"|"mucertstat"|"lkey"|"mukey"`

// numbered is a header of a program that names columns V1, V2, ….
func numbered(n int) string {
	var names []string
	for i := range n {
		names = append(names, `"V`+string(rune('0'+(i+1)/10))+string(rune('0'+(i+1)%10))+`"`)
	}
	return strings.ReplaceAll(strings.Join(names, "|"), `"V0`, `"V`)
}

// Every variant of the excerpt must give the same survey as the excerpt itself.
func TestDialectsReadAlike(t *testing.T) {
	want, _ := read(t, excerpt(t))
	for _, c := range []struct {
		name    string
		change  func(fstest.MapFS) fstest.MapFS
		notices int
	}{
		{"line feeds only", func(e fstest.MapFS) fstest.MapFS {
			for _, f := range e {
				f.Data = []byte(strings.ReplaceAll(string(f.Data), "\r\n", "\n"))
			}
			return e
		}, 0},
		{"header rows", func(e fstest.MapFS) fstest.MapFS {
			withHeader(e, "mapunit", mapunitHeader)
			withHeader(e, "legend", `"areatypename"|"areasymbol"|"areaname"|"areaacres"|"mlraoffice"|"legenddesc"|"ssastatus"|"mouagncyresp"|"projectscale"|"cordate"|"ssurgoarchived"|"legendsuituse"|"legendcertstat"|"lkey"`)
			return e
		}, 1},
		{"header rows that only number", func(e fstest.MapFS) fstest.MapFS {
			withHeader(e, "mapunit", numbered(24))
			withHeader(e, "csmoist", numbered(9))
			return e
		}, 1},
		// Seen in a third party's copy of TX347: names of another table version over fields in the usual places.
		{"header row with wrong names", func(e fstest.MapFS) fstest.MapFS {
			withHeader(e, "sacatlog", `"areasymbol"|"areaname"|"saversion"|"saverest"|"fgdcmetadata"|"mbrminx"|"mbrminy"|"mbrmaxx"|"mbrmaxy"|"V10"|"V11"`)
			return e
		}, 1},
		{"byte order mark", func(e fstest.MapFS) fstest.MapFS {
			withHeader(e, "mapunit", "\ufeff"+mapunitHeader)
			return e
		}, 1},
		{"numbers quoted, keys not, true unpadded", func(e fstest.MapFS) fstest.MapFS {
			for _, f := range e {
				s := strings.ReplaceAll(string(f.Data), "|No |", `|"No"|`)
				s = strings.ReplaceAll(s, `|"565269"|`, "|565269|")
				f.Data = []byte(strings.ReplaceAll(s, "|0.5|", `|"0.5"|`))
			}
			return e
		}, 0},
		{"capital file names in a nested folder", func(e fstest.MapFS) fstest.MapFS {
			out := fstest.MapFS{}
			for name, f := range e {
				out["a/b/AR017/"+strings.ToUpper(name[:12])+strings.ToUpper(name[12:])] = f
			}
			return out
		}, 0},
		{"pointed at the tables themselves", func(e fstest.MapFS) fstest.MapFS {
			out := fstest.MapFS{}
			for name, f := range e {
				out[strings.TrimPrefix(name, "tabular/")] = f
			}
			return out
		}, 0},
		{"zero bytes and a lone empty field mean no rows", func(e fstest.MapFS) fstest.MapFS {
			e["tabular/mstab.txt"] = &fstest.MapFile{}
			e["tabular/mstabcol.txt"] = &fstest.MapFile{Data: []byte("\"\"\r\n")}
			return e
		}, 0},
		{"empty quoted texts are null", func(e fstest.MapFS) fstest.MapFS {
			f := e["tabular/crstrcts.txt"]
			f.Data = []byte(strings.ReplaceAll(string(f.Data), "||", `|""|`))
			return e
		}, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, faults := read(t, c.change(excerpt(t)))
			if !reflect.DeepEqual(got, want) {
				t.Errorf("another survey\n%s", faults)
			}
			if faults.Faults() > 0 || faults.Notices() != c.notices {
				t.Errorf("%d faults, %d notices, want 0, %d:\n%s", faults.Faults(), faults.Notices(), c.notices, faults)
			}
		})
	}
}

// The note of sacatlog runs over lines and quotes with a backslash, as in a third party's copy of TX347.
func TestBackslashQuotesOnlyInCopies(t *testing.T) {
	want, _ := read(t, excerpt(t))
	note := "\"certified \\\"at last\\\"\r\nsee \\\\server\\\\x\\\"\""
	e := excerpt(t)
	withHeader(e, "mapunit", mapunitHeader)
	edit(t, e, "sacatlog", "16:35:51||", "16:35:51|"+note+"|")
	got, faults := read(t, e)
	if !reflect.DeepEqual(got, want) || faults.Faults() > 0 {
		t.Errorf("a copy's quotes were not read:\n%s", faults)
	}
	e = excerpt(t)
	edit(t, e, "mapunit", `"Undifferentiated group"`, `"ends in \"`)
	got, faults = read(t, e)
	kept := slices.ContainsFunc(got.Units, func(u soils.MapUnit) bool { return u.Kind == `ends in \` })
	if !kept || len(got.Units) != len(want.Units) || faults.Faults() > 0 {
		t.Errorf("the agency's own backslash was taken for an escape:\n%s", faults)
	}
}

// An export that says its columns stand elsewhere is believed; a header row of a copy that names every column is too.
func TestExportsOwnColumnsWin(t *testing.T) {
	want, _ := read(t, excerpt(t))
	swap := func(s string) string { // musym and muname change places
		var out []string
		for _, line := range strings.Split(strings.TrimSuffix(s, "\r\n"), "\r\n") {
			f := strings.SplitN(line, "|", 3)
			out = append(out, f[1]+"|"+f[0]+"|"+f[2])
		}
		return strings.Join(out, "\r\n") + "\r\n"
	}
	e := excerpt(t)
	f := e["tabular/mapunit.txt"]
	f.Data = []byte(swap(string(f.Data)))
	var columns strings.Builder
	for i, name := range strings.Split(strings.ReplaceAll(mapunitHeader, `"`, ""), "|") {
		at := map[string]string{"musym": "2", "muname": "1"}[name]
		if at == "" {
			at = decimal(float64(i + 1))
		}
		columns.WriteString(`"mapunit"|` + at + `|"` + name + "\"|\"\"|\"two\r\nlines\"|||||||||\r\n")
	}
	e["tabular/mstabcol.txt"] = &fstest.MapFile{Data: []byte(columns.String())}
	got, faults := read(t, e)
	if !reflect.DeepEqual(got, want) || faults.Faults() > 0 || faults.Notices() != 2 {
		t.Errorf("mstabcol was not followed (%d notices, want one for each moved column):\n%s", faults.Notices(), faults)
	}

	e = excerpt(t)
	f = e["tabular/mapunit.txt"]
	f.Data = []byte(swap(mapunitHeader + "\r\n" + string(f.Data)))
	if got, faults = read(t, e); !reflect.DeepEqual(got, want) || faults.Faults() > 0 {
		t.Errorf("a full header row was not followed:\n%s", faults)
	}
}

// A file that mstab says is called otherwise is read from there.
func TestExportsOwnFileNamesWin(t *testing.T) {
	want, _ := read(t, excerpt(t))
	e := excerpt(t)
	e["tabular/restrict.txt"] = e["tabular/crstrcts.txt"]
	delete(e, "tabular/crstrcts.txt")
	e["tabular/mstab.txt"] = &fstest.MapFile{Data: []byte("\"corestrictions\"|\"component_restrictions\"|\"x\"|\"y\"|\"restrict\"\r\n")}
	if got, faults := read(t, e); !reflect.DeepEqual(got, want) || faults.Faults()+faults.Notices() > 0 {
		t.Errorf("mstab was not followed:\n%s", faults)
	}
}

// 0xE9 is é and 0x96 an en dash in Windows-1252 (checked against Python's codec cp1252); neither byte is UTF-8 alone.
func TestWindows1252FallBack(t *testing.T) {
	e := excerpt(t)
	edit(t, e, "legend", "Chicot County", "Chicot\x96Ch\xe9ri")
	s, faults := read(t, e)
	if s.Areas[0].Name != "Chicot–Chéri, Arkansas" || faults.Notices() != 1 {
		t.Errorf("name %q, notices:\n%s", s.Areas[0].Name, faults)
	}
	e = excerpt(t)
	edit(t, e, "legend", "Chicot County", "Chicot–Chéri")
	if s, faults = read(t, e); s.Areas[0].Name != "Chicot–Chéri, Arkansas" || faults.Notices() != 0 {
		t.Errorf("UTF-8 read as %q:\n%s", s.Areas[0].Name, faults)
	}
}
