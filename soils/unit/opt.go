package unit

import (
	"bytes"
	"encoding/json"
)

// Opt is a value that may be missing. The zero value is missing; it prints as null in JSON.
type Opt[T any] struct {
	v  T
	ok bool
}

// Some returns an Opt that holds v.
func Some[T any](v T) Opt[T] { return Opt[T]{v, true} }

// None returns a missing T.
func None[T any]() Opt[T] { return Opt[T]{} }

// Get returns the value and whether there is one.
func (o Opt[T]) Get() (T, bool) { return o.v, o.ok }

// Has says whether there is a value.
func (o Opt[T]) Has() bool { return o.ok }

// Or returns the value, or def when it is missing. A default is chosen in sight of the reader of the caller.
func (o Opt[T]) Or(def T) T {
	if o.ok {
		return o.v
	}
	return def
}

// MarshalJSON writes the value, or null.
func (o Opt[T]) MarshalJSON() ([]byte, error) {
	if !o.ok {
		return []byte("null"), nil
	}
	return json.Marshal(o.v)
}

// UnmarshalJSON reads a value, or null as missing.
func (o *Opt[T]) UnmarshalJSON(b []byte) error {
	if bytes.Equal(b, []byte("null")) {
		*o = Opt[T]{}
		return nil
	}
	if err := json.Unmarshal(b, &o.v); err != nil {
		return err
	}
	o.ok = true
	return nil
}
