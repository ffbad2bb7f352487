package soildata

import (
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"
)

// set is a value that is not null.
func set(s string) cell { return cell{Text: s, Set: true} }

// Answers as the service gives them, and forms that it might come to give.
func TestAnswers(t *testing.T) {
	for name, tc := range map[string]struct {
		in   string
		want answer
	}{
		"values and nulls": {`{"Table":[["mukey","cokey","reskind","resdept_r"],["281081","27611010","Densic material","76"],["281082","27611011",null,null]]}`,
			answer{[]string{"mukey", "cokey", "reskind", "resdept_r"}, [][]cell{{set("281081"), set("27611010"), set("Densic material"), set("76")},
				{set("281082"), set("27611011"), {}, {}}}}},
		"no coverage":    {"{}", answer{}},
		"white space":    {"\r\n {\n \"Table\" : [ [\"a\"],\n [\"\"] ] }\n", answer{[]string{"a"}, [][]cell{{set("")}}}},
		"header alone":   {`{"Table":[["a"]]}`, answer{columns: []string{"a"}}},
		"bare number":    {`{"Table":[["a","b"],[5,-1.5e3]]}`, answer{[]string{"a", "b"}, [][]cell{{set("5"), set("-1.5e3")}}}},
		"other members":  {`{"x":{"y":[1]},"Table":[["a"],["b"]],"Table1":[["c"]]}`, answer{[]string{"a"}, [][]cell{{set("b")}}}},
		"letters":        {`{"Table":[["a"],["caf\u00e9 \"x\"\n|"]]}`, answer{[]string{"a"}, [][]cell{{set("café \"x\"\n|")}}}},
		"table is empty": {`{"Table":[]}`, answer{}},
	} {
		got, err := parseAnswer([]byte(tc.in), 100)
		if err != nil || !reflect.DeepEqual(*got, tc.want) {
			t.Errorf("%s: %+v, %v, want %+v", name, got, err, tc.want)
		}
	}
}

// Each would put a value into another column or row if it were read with good will.
func TestAnswersRefused(t *testing.T) {
	for name, tc := range map[string]struct{ in, says string }{
		"object for table":   {`{"Table":{}}`, `"[" expected`},
		"null for table":     {`{"Table":null}`, `"[" expected`},
		"no table":           {`{"Error":"x"}`, `no member "Table"`},
		"two tables":         {`{"Table":[["a"]],"Table":[["a"]]}`, "two members"},
		"short row":          {`{"Table":[["a","b"],["1"]]}`, "row 1 has 1 values"},
		"truth value":        {`{"Table":[["a"],[true]]}`, "neither text nor null"},
		"object as value":    {`{"Table":[["a"],[{}]]}`, "neither text nor null"},
		"nameless column":    {`{"Table":[[null]]}`, "no name"},
		"no columns":         {`{"Table":[[],[]]}`, "names no columns"},
		"text behind":        {`{"Table":[["a"]]} x`, "behind"},
		"array at the top":   {`[["a"]]`, `"{" expected`},
		"row is text":        {`{"Table":["a"]}`, ""},
		"cut off in a row":   {`{"Table":[["a"],["b`, "cut off"},
		"cut off after it":   {`{"Table":[["a"],["b"]]`, "cut off"},
		"cut off in a table": {`{"Table":[["a"],`, "cut off"},
		"nothing":            {"", "cut off"},
	} {
		_, err := parseAnswer([]byte(tc.in), 100)
		if err == nil || !strings.Contains(err.Error(), tc.says) {
			t.Errorf("%s: error %v, want %q", name, err, tc.says)
		}
	}
	rows := strings.Repeat(`,["x"]`, 100)
	if a, err := parseAnswer([]byte(`{"Table":[["a"]`+rows+"]}"), 101); err != nil || len(a.rows) != 100 {
		t.Errorf("100 rows under a limit of 101: %v", err)
	}
	if _, err := parseAnswer([]byte(`{"Table":[["a"]`+rows+"]}"), 100); !errors.Is(err, errTooManyRows) {
		t.Errorf("100 rows at a limit of 100: %v", err)
	}
}

// FuzzAnswer: what is read can be written and read again to the same.
func FuzzAnswer(f *testing.F) {
	for _, s := range []string{"{}", `{"Table":[["a","b"],["1",null],["",2]]}`, `{"Table":[[]]}`, `{"x":1}`, `{"Table":[["a"],["b`, "<html>", "Site is under daily maintenance"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		a, err := parseAnswer(b, 1000)
		if err != nil {
			return
		}
		again, err := parseAnswer(a.asJSON(t), 1000)
		if err != nil || !reflect.DeepEqual(a, again) {
			t.Errorf("%q: %+v, again %+v, %v", b, a, again, err)
		}
	})
}

// asJSON writes an answer as the service does.
func (a *answer) asJSON(t testing.TB) []byte {
	if len(a.columns) == 0 {
		return []byte("{}")
	}
	table := [][]*string{{}}
	for i := range a.columns {
		table[0] = append(table[0], &a.columns[i])
	}
	for _, row := range a.rows {
		var out []*string
		for i := range row {
			if row[i].Set {
				out = append(out, &row[i].Text)
			} else {
				out = append(out, nil)
			}
		}
		table = append(table, out)
	}
	b, err := json.Marshal(map[string]any{"Table": table})
	if err != nil {
		t.Fatal(err)
	}
	return b
}
