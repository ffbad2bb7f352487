// Package run keeps a run: it writes a result as the run folder and reads one back.
//
// The folder holds zones.geojson, fields.geojson, fields.csv, lime.csv, reasons.jsonl and run.json, all of one run or
// none at all. The two CSV files are for people and are not read back; shapes come from the GeoJSON files, everything
// else from reasons.jsonl and run.json, which lose nothing. What was read can be written again to the same bytes.
//
//	err := run.Write("run", result)
//	again, err := run.Read(os.DirFS("run"))
package run
