// Package web is the local page: runs to look at, compare and make, served to a browser on the same machine.
//
//	s, err := web.New(web.Config{Program: "rootworthy 1.0", Runs: []web.Source{{Name: "run", Files: dir}}})
//	listeners, err := web.Listen(0)
//	err = s.Serve(ctx, listeners...)
//
// It listens on the loopback address alone and answers only requests that name it as such; whatever changes something
// wants the token that stands in its own pages. It opens no file and knows no path: runs come as file systems, uploads
// stay in memory, and what is downloaded is written anew from the result. Plan, ranking and money come by the functions of
// the command line, and the record of the fields is read and written by functions that it was given.
//
// Every list, class and figure is worked out here, in Go; the script in the page only asks for them and draws the map.
// So what a page says with a limit moved is what the program itself would say.
package web
