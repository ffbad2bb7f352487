// Package gdal is the door to soil surveys in formats that no pure-Go library reads, file geodatabases above all. It is
// shut in the usual build:
//
//	go build ./cmd/rootworthy              one static binary; OpenSurvey says what to do instead
//	go build -tags gdal ./cmd/rootworthy   needs cgo and the GDAL library with its headers
package gdal
