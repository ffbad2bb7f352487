package lime

import "strconv"

// figure prints a number as short as it can be read back.
func figure(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
