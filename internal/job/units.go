package job

import (
	"cmp"
	"slices"
	"sync"
	"sync/atomic"

	"rootworthy/internal/geo/overlay"
	"rootworthy/soils"
	"rootworthy/suitability"
)

// units numbers the map units for the overlay and rates each one once. Numbers follow the order of the keys, so that
// they do not depend on the order of the survey's records; keys without a table row are numbered behind them as met.
type units struct {
	profile *suitability.Profile
	target  suitability.Target
	list    []soils.MapUnit
	number  map[string]uint32
	areas   map[string]soils.Area // survey area by symbol

	mu    sync.Mutex
	rated map[ratedKey]suitability.UnitRating // a county has some hundred map units, and ten thousand zones on them

	read    func(key string) (soils.MapUnit, error) // of a survey that keeps its map units on disk; else nil
	whole   sync.Map                                // number → soils.MapUnit that was read
	failing atomic.Pointer[error]                   // why the first unit that could not be read could not
}

// ratedKey is what a rating without tests and measured slope depends on: drains are the field's, all else the unit's.
type ratedKey struct {
	number  uint32
	drained bool
}

// newUnits numbers the units of the tables; the list is a copy, since keys of the map alone are put behind it.
func newUnits(s *soils.Survey, p *suitability.Profile, target suitability.Target) *units {
	u := &units{profile: p, target: target, list: slices.Clone(s.Units), number: map[string]uint32{}, areas: map[string]soils.Area{}, rated: map[ratedKey]suitability.UnitRating{}}
	for i, m := range u.list {
		u.number[m.Key] = uint32(i)
	}
	for _, a := range s.Areas {
		u.areas[a.Symbol] = a
	}
	return u
}

// namer is a survey whose map carries symbols and names of map units.
type namer interface {
	Named(key string) (symbol, name string)
}

// of returns the number of a map unit key, making up an empty unit for a key that the tables do not have.
// It is called by one goroutine, before the fields are cut: the list does not grow afterwards.
func (u *units) of(survey Survey, area, key string) uint32 {
	n, ok := u.number[key]
	if !ok {
		n = uint32(len(u.list))
		u.number[key] = n
		// Ground that was drawn and not described is not rated, but it is cut, measured and named.
		m := soils.MapUnit{Key: key, Area: area, Undescribed: true}
		// a map without tables may still say what its units are called
		if s, ok := survey.(namer); ok {
			m.Symbol, m.Name = s.Named(key)
		}
		u.list = append(u.list, m)
	}
	return n
}

// rating returns the rating of a map unit, before anything is known of the zone's size; that of ground whose shape was
// measured is its own.
func (u *units) rating(number uint32, drained bool, t suitability.Terrain) suitability.UnitRating {
	if t.Any() {
		return u.rate(number, drained, suitability.Tested{}, t)
	}
	// held while rating: the second field on a unit waits rather than rate it again
	u.mu.Lock()
	defer u.mu.Unlock()
	k := ratedKey{number, drained}
	r, ok := u.rated[k]
	if !ok {
		r = u.rate(number, drained, suitability.Tested{}, t)
		u.rated[k] = r
	}
	return r
}

// rate rates a map unit as the ground of one zone, by the tests and the shape of that zone.
func (u *units) rate(number uint32, drained bool, t suitability.Tested, shape suitability.Terrain) suitability.UnitRating {
	m := u.unit(number)
	a := u.areas[m.Area]
	return u.profile.RateUnit(m, suitability.RateOptions{Drained: drained, Scale: a.Scale, General: a.General, Target: u.target, Tested: t, Terrain: shape})
}

// unit returns a map unit with its components, reading it where the survey keeps them on disk. One that cannot be read
// comes without, and fails the job in the end.
func (u *units) unit(number uint32) soils.MapUnit {
	if u.read == nil {
		return u.list[number]
	}
	if m, ok := u.whole.Load(number); ok {
		return m.(soils.MapUnit)
	}
	// Two workers may read the same unit at once; both get the same, and the second Store changes nothing.
	m, err := u.read(u.list[number].Key)
	if err != nil {
		// the first alone: a disk that fails for one unit fails for the next
		u.failing.CompareAndSwap(nil, &err)
		return u.list[number]
	}
	u.whole.Store(number, m)
	return m
}

// byAreaThenKey orders pieces as zones are numbered: falling area, then map unit key.
func (u *units) byAreaThenKey(a, b overlay.Piece) int {
	return cmp.Or(cmp.Compare(b.Area, a.Area), soils.CompareKeys(u.list[a.Key].Key, u.list[b.Key].Key))
}
