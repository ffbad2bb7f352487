package overlay

// unspike takes lines that are walked to and fro out of all rings from first on, and rings that are nothing else. It
// says whether there were any.
func (o *outline) unspike(first int) bool {
	found := false
	kept := o.rings[:first]
	for _, r := range o.rings[first:] {
		n := o.unspikeRing(r)
		found = found || n != r.n
		if n >= 3 {
			kept = append(kept, span{r.start, n})
		}
	}
	o.rings = kept
	return found
}

// unspikeRing works in place, like a stack: a point whose two neighbours lie on the same side of it on one line goes,
// and the one before it is looked at again. It returns how many edges are left.
func (o *outline) unspikeRing(r span) int32 {
	pts := o.pts[r.start : r.start+r.n]
	top := pts[:0]
	for _, p := range pts {
		for {
			n := len(top)
			if n > 0 && top[n-1] == p {
				top = top[:n-1]
				continue
			}
			if n > 1 && turnsBack(top[n-2], top[n-1], p) {
				top = top[:n-1]
				continue
			}
			break
		}
		top = append(top, p)
	}
	// The same where the end meets the beginning.
	lo, hi := 0, len(top)
	for hi-lo >= 3 {
		switch {
		case top[hi-1] == top[lo], turnsBack(top[hi-2], top[hi-1], top[lo]):
			hi--
		case turnsBack(top[hi-1], top[lo], top[lo+1]):
			lo++
		default:
			copy(pts, top[lo:hi])
			o.pts[int(r.start)+hi-lo] = pts[0]
			return int32(hi - lo)
		}
	}
	return 0
}
