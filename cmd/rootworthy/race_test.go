//go:build race

package main

// racing says that the race detector is at work. Inputs made to harm run one after the other in one goroutine each, and take a minute
// and a half under it.
const racing = true
