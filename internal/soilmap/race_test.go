//go:build race

package soilmap_test

// racing says that the race detector is at work, under which the database library takes minutes for a county.
const racing = true
