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

// Meaning says what a file of a run is good for; "" for a file of another name.
func Meaning(name string) string {
	switch name {
	case zonesFile:
		return "the map: every zone with class, reason, lime"
	case fieldsFile:
		return "the boundaries as used"
	case fieldsCSV:
		return "a row for each field, ranked"
	case limeCSV:
		return "a row for each zone: lime, passes, dates"
	case reasonsFile:
		return "why, with every value and source"
	case runFile:
		return "what the run was made from"
	}
	return ""
}
