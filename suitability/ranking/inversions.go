package ranking

// inversions counts the pairs that stand in falling order, by merging; it sorts seq and wants as much room.
//
// Source: textbook (merge sort); such a pair is a discordant one of Kendall's tau.
func inversions(seq, room []int32) (n int64) {
	if len(seq) < 2 {
		return 0
	}
	// fields that share a rank are equal here; "or equal" below does not count them
	mid := len(seq) / 2
	left, right := seq[:mid], seq[mid:]
	n = inversions(left, room) + inversions(right, room)
	out := room[:0]
	for len(left) > 0 && len(right) > 0 {
		if left[0] <= right[0] {
			out, left = append(out, left[0]), left[1:]
		} else {
			// what is left of the left half all stands before right[0] and is greater
			n += int64(len(left))
			out, right = append(out, right[0]), right[1:]
		}
	}
	out = append(append(out, left...), right...)
	copy(seq, out)
	return n
}
