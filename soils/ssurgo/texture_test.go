package ssurgo_test

import (
	"strings"
	"testing"

	"rootworthy/soils"
)

// The class by the fractions of sand, silt and clay against the class that the survey names for the same horizon. The two
// are separate judgements of the surveyors, so a few differ near a border; sands are compared without coarse and fine.
func TestTextureByFractionsAgreesWithTheSurvey(t *testing.T) {
	plain := map[string]string{"COS": "S", "FS": "S", "VFS": "S", "LCOS": "LS", "LFS": "LS", "LVFS": "LS", "COSL": "SL", "FSL": "SL", "VFSL": "SL"}
	for _, name := range []string{"ssurgo-ar017", "ssurgo-az649-tabular", "ssurgo-mo181-tabular", "ssurgo-tx347-tx401-tabular", "ssurgo-ia015-aoi", "ssurgo-ia073-aoi"} {
		agree, of := 0, 0
		var differ []string
		eachHorizon(readSurvey(t, realFolder(t, name)), func(h *soils.Horizon) {
			sand, okSand := h.Sand.Get()
			silt, okSilt := h.Silt.Get()
			clay, okClay := h.Clay.Get()
			if h.Texture == "" || strings.HasPrefix(h.TextureGroup, "SR-") || !okSand || !okSilt || !okClay {
				return
			}
			got, ok := soils.TextureOf(sand, silt, clay)
			want := h.Texture
			if p, isSand := plain[want]; isSand {
				want = p
			}
			of++
			if ok && got == want {
				agree++
			} else {
				differ = append(differ, h.TextureGroup+"≠"+got)
			}
		})
		t.Logf("%s: %d of %d horizons; %v", name, agree, of, differ[:min(len(differ), 8)])
		if of == 0 || 100*agree < 98*of {
			t.Errorf("%s: only %d of %d horizons agree", name, agree, of)
		}
	}
}

func eachHorizon(s *soils.Survey, f func(*soils.Horizon)) {
	for i := range s.Units {
		for j := range s.Units[i].Components {
			for k := range s.Units[i].Components[j].Horizons {
				f(&s.Units[i].Components[j].Horizons[k])
			}
		}
	}
}

// A group whose code has no fine earth class is settled by the words of its texture; a stratified list is not.
func TestTextureByWords(t *testing.T) {
	for _, c := range []struct{ code, words, want string }{
		{"C", "Clay", "C"}, {"XX-NEW", "Clay", "C"}, {"XX-NEW", "Clayey", ""}, {"SR- C SIC", "Clay", ""}, {"BR", "", ""}, {"GRV-SIC", "Clay", "SIC"},
	} {
		e := excerpt(t)
		edit(t, e, "chtexgrp", `"C"||Yes||"64440484"|"129923957"`, `"`+c.code+`"||Yes||"64440484"|"129923957"`)
		edit(t, e, "chtextur", `"Clay"||"129923957"`, `"`+c.words+`"||"129923957"`)
		s, faults := read(t, e)
		eachHorizon(s, func(h *soils.Horizon) {
			if h.Key == "64440484" && (h.Texture != c.want || h.TextureGroup != c.code) {
				t.Errorf("%q, %q: texture %q of group %q, want %q", c.code, c.words, h.Texture, h.TextureGroup, c.want)
			}
		})
		if unknown := c.words == "Clayey"; (faults.Notices() == 1) != unknown {
			t.Errorf("%q: notices\n%s", c.words, faults)
		}
	}
}
