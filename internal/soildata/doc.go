// Package soildata fetches soil surveys from the public Soil Data Access service of the USDA and keeps them in a cache.
//
// The user has fields and no survey, or wants a county whole. The service answers queries over the same tables that a
// survey export holds. What is fetched is written as such an export, a folder that package ssurgo opens like any other:
//
//	fetched, err := soildata.Fetch(ctx, soildata.Request{Areas: []string{"AR017"}}, soildata.Options{Dir: dir, Tell: say}, faults)
//	// fetched[0].Folder holds tabular/ and spatial/
//
// Polygons are fetched whole, never clipped to the fields: clipping is the overlay's work, which cuts all fields and
// neighbours on one grid, and a whole polygon is the same, to the digit, whoever asks for it.
//
// Politeness: one request at a time, lists of keys of at most 500, three tries with growing waits, a name in the
// User-Agent, every answer kept until the survey is complete, so that a break costs one request. A survey of a version
// that is in the cache is not fetched again; offline nothing is asked at all.
//
// This and the commands are the only packages that touch a network, and only [Fetch] does. It asks one host, which it
// names to Options.Tell together with what it sends, before it sends it.
//
// Sources: how the service behaves is told by the documentation of public clients and by saved answers; section by
// section where it is used. What could be learned from the live service alone is marked "not verified".
package soildata
