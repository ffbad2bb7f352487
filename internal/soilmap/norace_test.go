//go:build !race

package soilmap_test

const racing = false
