package export_test

import (
	"regexp"
	"strings"
	"testing"

	"rootworthy/export"
)

func tables() map[string][]export.Column {
	return map[string][]export.Column{"zones": export.ZoneColumns(), "lime": export.LimeColumns(), "fields": export.FieldColumns(), "units": export.UnitColumns(), "samples": export.LimeSampleColumns()}
}

// Formats of ten letters (dBASE III) cut names; two that become one would lose a column without a word.
func TestTheFirstTenLettersTellColumnsApart(t *testing.T) {
	for name, columns := range tables() {
		if name == "units" {
			continue // a list of map units has no shapes, and its names are fixed
		}
		seen := map[string]string{}
		for _, c := range columns {
			if other, twice := seen[c.Short()]; twice {
				t.Errorf("%s: %s and %s are both %q in ten letters", name, other, c.Name, c.Short())
			}
			seen[c.Short()] = c.Name
		}
	}
}

func TestEveryColumnSaysWhatItIs(t *testing.T) {
	plain := regexp.MustCompile(`^[a-z][a-z0-9_]*$`)
	for name, columns := range tables() {
		seen := map[string]bool{}
		for _, c := range columns {
			if !plain.MatchString(c.Name) || c.Meaning == "" || seen[c.Name] {
				t.Errorf("%s: column %+v: wants a plain name of its own and a meaning", name, c)
			}
			seen[c.Name] = true
		}
	}
}

// These names are what others build on: they may be added to, never changed.
func TestNamesStayAsPromised(t *testing.T) {
	for name, promised := range map[string]string{
		"zones": `zone_id field_id field_name zone area_ac area_ha survey_area mukey musym map_unit class class_today
			limiting limiting_today reason correctable score drainage depth_cm restriction ph_surface ph_subsoil
			ph_limit_depth_cm slope_pct flooding ponding water_table_cm awc_mm ec_ds_m suited_pct marginal_pct unsuited_pct
			rated_pct score_mean sar confidence hinges_on score_today lime_basis lime_low_st_ac lime_st_ac lime_high_st_ac
			lime_bound lime_t_ha ph_target`,
		"units": `mukey musym map_unit class class_today limiting rated_pct drainage slope_dom_pct slope_mean_pct
			bedrock_min_cm wet_min_cm wet_min_aprjun_cm flooding_dom aws_25_cm aws_50_cm aws_100_cm aws_150_cm
			drainage_wettest hydrologic_group hydric_pct`,
	} {
		var got []string
		for _, c := range tables()[name] {
			got = append(got, c.Name)
		}
		want := strings.Fields(promised)
		if got := strings.Join(got[:min(len(got), len(want))], " "); got != strings.Join(want, " ") {
			t.Errorf("%s begins\n%s\nwant\n%s", name, got, strings.Join(want, " "))
		}
	}
	lime := map[string]bool{}
	for _, c := range export.LimeColumns() {
		lime[c.Name] = true
	}
	for _, n := range strings.Fields("zone_id class lime_st_ac ph_surface ph_target lime_basis product_st_ac product_kg passes ready_date window") {
		if !lime[n] {
			t.Errorf("the lime list lacks %s", n)
		}
	}
}
