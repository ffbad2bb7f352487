// Package economics says what a stand costs and whether it may pay: by zone, by field and for the farm, always as a range.
//
// The program knows no price. All prices come from one file of the user with its date and place, each figure with its own source and
// year ([ReadPrices]). What the file does not hold is left out of the sums and told ([Study.Left]): missing is never zero.
//
//	prices, err := economics.ReadPrices("prices.toml", file, &faults) // nil prices where there was a fault
//	s := economics.Of(result, prices, economics.Options{})
//	f := s.Fields[0]                      // in the order of result.Fields
//	cost, ok := f.PerSuited.Get()         // cost of an area of suited ground; cost.Likely.PerAcre()
//	value, ok := f.Value.Get()            // net present value of the ground worth sowing, low, likely, high
//	f.BreakEven.Yield                     // hay that pays the costs and no more
//
// The value is that of alfalfa over going on with the sod: hay, quality and nitrogen saved, less harvest and upkeep, less what the sod
// alone would earn, over the life of the stand; less lime and establishment; all discounted to the day of the prices. Lime puts the gain off until
// it has worked. It may be negative, and a gain is never assumed: without what the sod earns there is no value at all.
//
// Low and high are extremes: every input at its worst, every input at its best. Hardly anybody meets them; [Spread] says where eight draws
// of ten lie, and rests on judgements that [Judgements] names.
package economics
