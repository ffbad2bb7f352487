package diag

import (
	"strings"
	"testing"
	"unicode/utf8"
)

func TestListKeepsFiveOfAKindAndCountsTheRest(t *testing.T) {
	var l List
	for i := 1; i <= 1209; i++ {
		l.Add(Fault{File: "a.csv", Line: i, Field: "pH", Kind: "range", What: "bad"})
	}
	l.Add(Fault{File: "a.csv", Line: 3, Field: "K", Kind: "range", What: "other"})
	l.Notice(Fault{File: "a.csv", Kind: "closed", What: "ring closed"})
	if l.Faults() != 1210 || l.Notices() != 1 {
		t.Fatalf("Faults, Notices = %d, %d, want 1210, 1", l.Faults(), l.Notices())
	}
	kept := l.Kept()
	if len(kept) != 7 {
		t.Fatalf("kept %d, want 7: the cap is per kind, so the second problem shows", len(kept))
	}
	if !strings.Contains(l.String(), "(and 1,204 more like it)") {
		t.Errorf("count of the rest missing in:\n%s", l.String())
	}
	if last := kept[len(kept)-1]; last.Severity != Notice {
		t.Errorf("notices come last, got %v", last)
	}
}

func TestFaultSaysWhereWhatAndRemedy(t *testing.T) {
	f := Fault{File: "tests.csv", Line: 41, Field: "water pH", What: `"64" is not a pH between 2 and 12`, Fix: "correct the cell"}
	if got, want := f.String(), `tests.csv:41: water pH: "64" is not a pH between 2 and 12; correct the cell`; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	f = Fault{File: "soil.shp", Offset: 100, Feature: "record 3", What: "cut off"}
	if got, want := f.String(), `soil.shp at byte 100 (record 3): cut off`; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// A name in a file may hold what clears the screen of who reads of it, or go on for megabytes.
func TestFaultsDoNotSteerTheTerminal(t *testing.T) {
	long := strings.Repeat("é", 1<<20)
	f := Fault{File: "a\x1b[2J.csv", Line: 3, Feature: "\u202eF1" + long, Field: "\x1b]0;x\a" + long, What: "nothing\nof it" + long, Fix: "mend it"}
	got := f.String()
	for _, r := range got {
		if r < 0x20 || r == 0x7f || r == 0x202e {
			t.Errorf("%q holds %U", got[:100], r)
		}
	}
	if n := utf8.RuneCountInString(got); n > mostName*2+mostWhat+100 {
		t.Errorf("%d letters", n)
	}
	if !strings.HasPrefix(got, "a?[2J.csv:3 (?F1é") || !strings.HasSuffix(got, "é…; mend it") {
		t.Errorf("%q … %q", got[:30], got[len(got)-30:])
	}
}
