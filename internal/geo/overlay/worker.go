package overlay

import (
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
	"rootworthy/internal/geo/index"
)

// worker cuts one field after another. All its slices are kept for the next field; only what is handed out is
// allocated.
type worker struct {
	cov  *Coverage
	tree *index.Tree
	opt  Options

	field   figure
	repair  *Repair // of the field
	found   []uint32
	fetched int32

	soil      *soil // the survey polygon being cut, one of views
	views     []soil
	supers    []nearSuper
	near      []int32    // chunks of survey polygons whose boxes meet the field's
	soilEdges [chunk]int // edges of two chunks that may cross each other, counted from the first of each
	landEdges [chunk]int
	xs        []crossing
	bySoil    []int32 // numbers of xs in order along the survey polygon
	inOrder   []int32 // 0, 1, 2, …
	nextField []int32
	nextSoil  []int32
	seen      []bool

	out    outline // rings of all pieces of the field
	least  []int32 // of each: where its least point is, counted from its start
	parent []int32 // of each: for a hole its outer ring, numbered within the piece; -1 for an outer ring
	pieces []piece
	check  checker
	land   checker // holds what is known of the field's rings
	whole  bool    // the rings just traced are all those of the field, and no others
	onEdge []edgePoint
	onLine []edgeLine
	loose  bool              // pieces moved when they were mended, and no longer fit their neighbours
	frame  []arrange.Polygon // the field's boundary that they fit after that
	build  *builder
	err    error
	rest   residue
	merged residue
}

// piece is one polygon's ground in the field: rings of w.out, or parts if they had to be mended.
type piece struct {
	polygon  uint32
	key      uint32
	from, to int32 // rings
	parts    []arrange.Polygon
	mended   bool
	doubled  geo.Int128
}

// cut works out what the coverage does to one field. The only error is that of a file with polygons in it.
func (w *worker) cut(number int, shape orb.MultiPolygon) (Cut, error) {
	w.pieces, w.onEdge, w.onLine = w.pieces[:0], w.onEdge[:0], w.onLine[:0]
	w.out.pts, w.out.rings, w.parent, w.least = w.out.pts[:0], w.out.rings[:0], w.parent[:0], w.least[:0]
	w.loose, w.frame = false, nil
	w.repair = nil
	w.loadField(number, shape)
	if len(w.field.rings) == 0 {
		return Cut{Field: number, Repair: w.repair}, nil
	}
	// A field seldom meets more than a few polygons; where it meets hundreds, they are gone up to in groups, so that what
	// has been read ahead is still at hand when its turn comes.
	w.found = w.tree.Search(w.field.box, w.found[:0])
	for ids := range slices.Chunk(w.found, atOnce) {
		if w.err = w.approach(ids); w.err != nil {
			return Cut{}, w.err
		}
		for i, id := range ids {
			w.soil = &w.views[i]
			if w.cutPolygon(id); w.err != nil {
				return Cut{}, w.err
			}
		}
	}
	return w.finish(number), nil
}

// loadField snaps the field and makes it valid.
func (w *worker) loadField(number int, shape orb.MultiPolygon) {
	// The test leaves areas and order of the rings in w.land, for pieces that are the whole field. A field without rings, or
	// with none left after snapping, has nothing to test.
	f := &w.field
	f.load(shape)
	f.wide = f.wide || w.opt.forceWide
	if !f.bad && (len(f.rings) == 0 || w.land.check(f.pts, f.rings, f.wide) == clean) {
		return
	}
	w.repair = f.mend(shape)
	w.repair.Number = number
}

// cutPolygon adds the piece that survey polygon id has in the field, if any.
func (w *worker) cutPolygon(id uint32) {
	rings, points := len(w.out.rings), len(w.out.pts)
	for {
		if w.field.wide && w.soil.wide == nil {
			w.soil.widen()
		}
		traced := w.trace()
		if traced && len(w.out.rings) == rings {
			// No ground; but there may be crossings, where every ring closed to fewer than three points. They are noted as
			// any others: the polygon across the line may have them in its piece.
			w.keepCrossings()
			return
		}
		if traced && w.accept(id, rings) {
			break
		}
		w.out.rings, w.out.pts = w.out.rings[:rings], w.out.pts[:points]
		w.parent, w.least = w.parent[:rings], w.least[:rings]
		if w.cov.examine(id, w.soil, &w.check) { // it was not valid, and now it is: once more
			if w.err = w.again(id); w.err != nil {
				return
			}
			continue
		}
		w.acceptAnyway(id, traced)
		break
	}
	w.keepCrossings()
}

// accept takes the rings from first on as the piece of polygon id, if they are valid.
func (w *worker) accept(id uint32, first int) bool {
	rings := w.out.rings[first:]
	if w.whole && !w.field.wide && w.repair == nil {
		w.pieces = append(w.pieces, w.take(id, first, &w.land)) // the field itself, which has been tested
		return true
	}
	if w.check.check(w.out.pts, rings, w.field.wide) != clean {
		// Most often a boundary that follows a survey line leaves a line walked to and fro.
		if !w.out.unspike(first) {
			return false
		}
		rings = w.out.rings[first:]
		if len(rings) == 0 {
			return true
		}
		if w.check.check(w.out.pts, rings, w.field.wide) != clean {
			return false
		}
	}
	w.pieces = append(w.pieces, w.take(id, first, &w.check))
	return true
}

// take makes a piece of the rings from first on, of which k knows areas and order.
func (w *worker) take(id uint32, first int, k *checker) piece {
	p := piece{polygon: id, key: w.cov.polygons[id].key, from: int32(first), to: int32(len(w.out.rings))}
	for i, a := range k.areas {
		p.doubled = p.doubled.Add(a)
		up := int32(-1)
		if a.Sign() < 0 {
			up = k.parent[i]
		}
		w.parent = append(w.parent, up)
		w.least = append(w.least, k.least(i))
	}
	return p
}
