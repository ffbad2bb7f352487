// Package index finds which of many boxes meet a given one.
package index
