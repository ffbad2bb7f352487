package run

// The files of a run folder.
const (
	zonesFile   = "zones.geojson"
	fieldsFile  = "fields.geojson"
	fieldsCSV   = "fields.csv"
	limeCSV     = "lime.csv"
	reasonsFile = "reasons.jsonl"
	runFile     = "run.json" // written last: a folder without it is not a run
)

// Schema is the version of the run folder. It goes up when a reader of an older program would misread a newer folder.
const Schema = 1

// Files lists the files of a run folder, in the order in which they are written.
func Files() []string {
	return []string{zonesFile, fieldsFile, fieldsCSV, limeCSV, reasonsFile, runFile}
}
