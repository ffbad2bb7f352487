package field

import "strconv"

// idsByFile takes the ids of each file by themselves, the features' own or a property that serves there; fields of a file that has neither
// get their place among all. It is false where that gains nothing: with one file, with no file that has ids, or where two ids are alike,
// as a number of the program's and one of the user's would be.
func idsByFile(drawn []drawing) (ids []string, ok bool) {
	ids = make([]string, len(drawn))
	named := false // some file has ids of its own
	for from := 0; from < len(drawn); {
		to := from + 1
		// The drawings of a file stand together, in the order in which the files were named.
		for to < len(drawn) && drawn[to].File == drawn[from].File {
			to++
		}
		if to-from == len(drawn) {
			return nil, false
		}
		if fileIDs(ids[from:to], drawn[from:to]) {
			named = true
		} else {
			for i := from; i < to; i++ {
				ids[i] = strconv.Itoa(i + 1)
			}
		}
		from = to
	}
	return ids, named && allApart(ids)
}

// fileIDs fills ids from what serves in one file; false when nothing does.
func fileIDs(ids []string, drawn []drawing) bool {
	if fromFeatures(ids, drawn) && allApart(ids) {
		return true
	}
	for _, name := range idNames() {
		if all, _, twice := fill(ids, drawn, name); all && twice == 0 {
			return true
		}
	}
	return false
}

// allApart says whether no two ids are alike.
func allApart(ids []string) bool {
	seen := make(map[string]bool, len(ids))
	for _, id := range ids {
		if seen[id] {
			return false
		}
		seen[id] = true
	}
	return true
}
