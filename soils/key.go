package soils

import (
	"cmp"
	"strconv"
)

// CompareKeys orders map unit keys: numbers by value, before anything else, which goes by text.
func CompareKeys(a, b string) int {
	x, errA := strconv.ParseUint(a, 10, 64)
	y, errB := strconv.ParseUint(b, 10, 64)
	switch {
	case errA == nil && errB == nil:
		// "007" and "7" have one value and are two keys
		return cmp.Or(cmp.Compare(x, y), cmp.Compare(a, b))
	case errA == nil:
		return -1
	case errB == nil:
		return 1
	}
	return cmp.Compare(a, b)
}
