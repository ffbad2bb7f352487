package diag

// mostWord bounds what is compared with the known words; nobody means a word of such a length.
const mostWord = 64

// Nearest returns the known word within two strokes of a misspelt one, for the suggestion of a fault; of equals the first.
func Nearest(word string, known []string) (near string, ok bool) {
	best := 3 // three strokes are another word
	for _, k := range known {
		if d := strokes(word, k); d < best {
			near, best = k, d
		}
	}
	return near, best < 3
}

// strokes counts the letters to insert, delete or replace to make b from a (Levenshtein distance).
func strokes(a, b string) int {
	if len(a) > mostWord {
		return len(a)
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := diagonal
			if a[i] != b[j] {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
