// Package xmlscan walks through XML that strangers wrote, element by element, in bounded memory.
//
//	s := xmlscan.New(r)
//	root, err := s.Root()
//	err = s.Children(func(e xml.StartElement) error {
//		text, err := s.Text() // or s.Children, or nothing: what is not taken is passed over
//		return err
//	})
//
// Nothing is fetched and no entity is expanded but the five of XML itself; a file that defines its own ends with an
// error where it uses one. Depth is bounded by maxDepth, one piece of text by maxText, and everything else in proportion
// to what was read. UTF-8, UTF-16 and the common 8-bit encodings are read.
//
// Source: XML 1.0, fifth edition; the parser is encoding/xml.
package xmlscan
