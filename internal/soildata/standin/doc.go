// Package standin answers like the Soil Data Access service from the files of a survey export, for tests on this machine.
//
//	service, err := standin.New(os.DirFS("AR017"))
//	server := httptest.NewServer(service) // server.URL takes the queries
//
// It reads the queries as SQL (joins, lists of keys, conditions), so a query that names a wrong table or column or
// joins by the wrong key is refused as the service would refuse it. Its geometry is that of other code than is tested:
// outlines are read by orb. Rows come in an order that is not that of the files.
package standin
