package web

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
	"testing"

	pick "rootworthy/export/choice"
	"rootworthy/suitability"
	"rootworthy/suitability/ranking"
	"rootworthy/suitability/uncertainty"
)

// byWait gathers fields without a day and a region.
func byWait() *Ranker {
	return &Ranker{Gather: func(name string, r *suitability.Result, study *uncertainty.Study) (*pick.Choice, []ranking.Field, error) {
		return &pick.Choice{Runs: []pick.Run{{Name: name, Result: r}}, Program: r.Provenance.Program}, ranking.Gather(name, r, study, ranking.GatherOptions{}), nil
	}}
}

// rankPart is what the script of the page is sent.
type rankPart struct {
	List   string
	Answer []string
	Shares []string
	Query  string
	Error  string
	MS     float64
}

func (s *site) rankPart(t *testing.T, q string) (int, rankPart) {
	t.Helper()
	code, text := s.get("/run/1/ranking?part=1&" + q)
	var p rankPart
	if err := json.Unmarshal([]byte(text), &p); err != nil {
		t.Fatalf("%s: %.200s: %v", q, text, err)
	}
	return code, p
}

var rankedField = regexp.MustCompile(`<a class="field" href="/run/1/field/(\d+)/chances">`)

func orderOf(list string) string {
	var out []string
	for _, m := range rankedField.FindAllStringSubmatch(list, -1) {
		out = append(out, m[1])
	}
	return strings.Join(out, " ")
}

// A weight that moves changes the order on the page as it changes that of the ranking, at once and in full alike.
func TestWeightsMoveTheOrder(t *testing.T) {
	s := serve(t, nil)
	s.server.ranker = byWait()
	r := screenDemo(t, nil)
	study := uncertainty.Of(r, uncertainty.Options{Enough: ranking.ProposedRules().Wanted()})
	seen := map[string]bool{}
	for _, w := range []string{"suited=3,cost=2,ready=1,sure=2,risk=2", "suited=0,cost=10,ready=0,sure=0,risk=0", "suited=10,cost=0,ready=0,sure=0,risk=0", "suited=0,cost=0,ready=10,sure=0,risk=1"} {
		weights, err := ranking.ParseWeights(w)
		if err != nil {
			t.Fatal(err)
		}
		want, err := ranking.Rank(t.Context(), ranking.Gather("demo run", r, study, ranking.GatherOptions{}), ranking.Options{Weights: weights})
		if err != nil {
			t.Fatal(err)
		}
		var ids []string
		for _, f := range want.Fields {
			for i := range r.Fields {
				if r.Fields[i].ID == f.ID {
					ids = append(ids, fmt.Sprint(i))
				}
			}
		}
		q := strings.ReplaceAll(w, ",", "&")
		for _, how := range []string{"", "&quick=1"} {
			if _, p := s.rankPart(t, q+how); orderOf(p.List) != strings.Join(ids, " ") || p.MS <= 0 {
				t.Errorf("%s%s: order %s, want %v", w, how, orderOf(p.List), ids)
			}
		}
		_, page := s.get("/run/1/ranking?" + q) // without a script
		if orderOf(page) != strings.Join(ids, " ") || !strings.Contains(page, `name="cost" type="number"`) {
			t.Errorf("%s: the page without a script has the order %s, want %v", w, orderOf(page), ids)
		}
		seen[orderOf(page)] = true
	}
	if len(seen) < 2 {
		t.Error("no weight moves anything, so nothing is shown")
	}
}

// What is no weight is told beside its field, and the list stands by the proposal.
func TestWeightsThatAreNone(t *testing.T) {
	s := serve(t, nil)
	s.server.ranker = byWait()
	usual := orderOf(second(s.get("/run/1/ranking")))
	for q, says := range map[string]string{"cost=much": `&#34;much&#34; is not a weight`, "cost=-1": `&#34;-1&#34; is not a weight`, "risk=NaN": `&#34;NaN&#34; is not a weight`, "top=0": "is not a number of fields",
		"suited=0&cost=0&ready=0&sure=0&risk=0": "All weights are 0"} {
		code, page := s.get("/run/1/ranking?" + q)
		if code != 400 || !strings.Contains(page, says) || orderOf(page) != usual {
			t.Errorf("%s: %d, want %q beside its field", q, code, says)
		}
		if code, p := s.rankPart(t, q); code != 400 || p.Error == "" {
			t.Errorf("%s: the script is told %d %q", q, code, p.Error)
		}
	}
}

// Every field has a letter that begins with the advice, and leads back under the same weights.
func TestLetters(t *testing.T) {
	s := serve(t, nil)
	s.server.ranker = byWait()
	for i := range screenDemo(t, nil).Fields {
		path := fieldHead{Run: 1, Place: i}.Page("letter") + "?cost=5"
		code, page := s.get(path)
		if code != 200 || !strings.Contains(page, "Our advice: ") || !strings.Contains(page, `href="/run/1/ranking?cost=5"`) {
			t.Errorf("%s: %d", path, code)
		}
	}
	if code, _ := s.get("/run/1/ranking/all.zip"); code != 404 {
		t.Errorf("a file that is none: %d", code)
	}
}
