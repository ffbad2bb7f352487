package uncertainty

import "math"

// percent turns a share into percent without the noise of sums: halves stay halves.
func percent(share float64) float64 { return math.Round(share*1e8) / 1e6 }
