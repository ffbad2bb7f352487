package flatgeobuf

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
)

// Features calls f for every feature in the order of the file and stops at its first error, which it returns as it is.
// A feature whose shape cannot be used has the reason, which was told. Damage is told with its byte offset, and what
// stands before it is kept. It can be called once.
func (l *Layer) Features(f func(feature.Feature) error) error {
	// A count of 0 means that the writer did not know it: then features come up to the end of the file.
	for i := 0; l.Count == 0 || uint64(i) < l.Count; i++ {
		// of the feature's length, for messages
		from := l.at
		b, err := l.block(maxFeature)
		switch {
		// Between two features, where a file without a count ends.
		case errors.Is(err, io.EOF) && l.Count == 0:
			return nil
		case errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF):
			return l.broken(i, from, "it ends there")
		case err != nil && l.at == from+4: // a length that cannot be
			return l.broken(i, from, err.Error())
		case err != nil:
			return fmt.Errorf("%s: %w", l.file, err)
		}
		out, err := l.feature(i, from, b)
		if err != nil {
			return err
		}
		if err := f(out); err != nil {
			return err
		}
	}
	if _, err := l.r.ReadByte(); err == nil {
		l.faults.Add(diag.Fault{File: l.file, Offset: l.at, Kind: "left over", What: fmt.Sprintf("bytes are left over behind the %d features its header counts", l.Count), Fix: "export the file again"})
	}
	return nil
}

// broken tells that the file ends or cannot be followed from there on.
func (l *Layer) broken(read int, at int64, why string) error {
	if read == 0 {
		return fmt.Errorf("%s: is cut off or damaged at byte %d, before its first feature: %s; copy it again", l.file, at, why)
	}
	of := ""
	if l.Count > 0 {
		of = fmt.Sprintf(" of %d", l.Count)
	}
	l.faults.Add(diag.Fault{File: l.file, Offset: at, Kind: "damaged", What: fmt.Sprintf("it breaks off after %d%s features: %s", read, of, why), Fix: "copy the file again"})
	return nil
}

// feature reads one feature from its bytes.
func (l *Layer) feature(i int, at int64, b []byte) (feature.Feature, error) {
	out := feature.Feature{Index: i}
	// A feature that cannot be read costs itself alone: the next one begins behind its length.
	t, ok := rootTable(b)
	if !ok {
		out.Reason = "its bytes are damaged"
		l.tell(&out, at, diag.Wrong, "no polygon", out.Reason, "copy the file again")
		return out, nil
	}
	cols := l.Columns
	// A feature may bring columns of its own, which then replace those of the header.
	if own, err := columns(t, featureColumns); err == nil && len(own) > 0 {
		cols = own
	}
	l.properties(&out, cols, t, at)
	l.shape(&out, t, at)
	return out, nil
}

// shape reads the geometry, and tells what there is to tell about it.
func (l *Layer) shape(out *feature.Feature, t table, at int64) {
	g, ok := t.table(featureGeometry)
	// A point takes 16 bytes and a reference to a part 4.
	s := shaper{points: len(t.b) / 16, parts: len(t.b) / 4}
	if ok {
		s.add(g, l.kind, 0)
	}
	switch {
	case !ok:
		out.Reason = "it has no geometry"
	case s.damage != "":
		out.Reason = s.damage
	case len(s.shape) == 0 && s.other != "":
		out.Reason = fmt.Sprintf("it is a %s, not a polygon", s.other)
	case len(s.shape) == 0:
		out.Reason = "its geometry is empty"
	default:
		out.Geometry = s.shape
		if s.other != "" {
			l.tell(out, at, diag.Notice, "other geometry", fmt.Sprintf("beside polygons it holds a %s, which is left out", s.other), "")
		}
	}
	if out.Reason != "" {
		l.tell(out, at, diag.Wrong, "no polygon", out.Reason, "draw it as a polygon, or take it out")
	}
	if s.flattened {
		l.tell(out, at, diag.Notice, "heights", "it has heights or measures, which are left out", "")
	}
}

func (l *Layer) tell(f *feature.Feature, at int64, s diag.Severity, kind, what, fix string) {
	l.faults.Add(diag.Fault{Severity: s, File: l.file, Offset: at, Feature: f.Label(), Kind: kind, What: what, Fix: fix})
}

// clean returns text as valid UTF-8.
func clean(s string) string {
	if utf8.ValidString(s) {
		return s
	}
	return strings.ToValidUTF8(s, "\ufffd")
}
