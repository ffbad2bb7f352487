//go:build gdal

package gdal

/*
#cgo pkg-config: gdal
#include <stdlib.h>
#include <gdal.h>
#include <ogr_api.h>
#include <ogr_srs_api.h>
#include <cpl_error.h>
#include <cpl_conv.h>

static void quiet(void) { CPLSetErrorHandler(CPLQuietErrorHandler); }
*/
import "C"

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"strings"
	"sync"
	"unsafe"
)

// ready registers GDAL's drivers, once; what it has to say is asked for, not printed.
var ready = sync.OnceFunc(func() {
	C.quiet()
	C.GDALAllRegister()
})

// dataset is a source of vector layers. It is for one goroutine.
type dataset struct {
	handle C.GDALDatasetH
	layers []*layer
}

// layer is a table, with shapes or without.
// fields are in small letters, in the order of the layer; shapes says whether it has a geometry column.
type layer struct {
	handle C.OGRLayerH
	name   string
	fields []string
	shapes bool
	wkt    string // of the coordinate system; empty when there is none
}

// open opens a dataset for reading.
func open(path string) (*dataset, error) {
	ready()
	name := C.CString(path)
	defer C.free(unsafe.Pointer(name))
	runtime.LockOSThread() // the last error belongs to the thread
	defer runtime.UnlockOSThread()
	C.CPLErrorReset()
	// No list of drivers: GDAL itself tells the format, so that formats it learns need no change here.
	h := C.GDALOpenEx(name, C.GDAL_OF_VECTOR|C.GDAL_OF_READONLY, nil, nil, nil)
	if h == nil {
		// GDAL is silent where no driver takes the file.
		why := C.GoString(C.CPLGetLastErrorMsg())
		if why == "" {
			why = "no driver knows it"
		}
		return nil, errors.New(why)
	}
	d := &dataset{handle: h}
	for i := range int(C.GDALDatasetGetLayerCount(h)) {
		if l := C.GDALDatasetGetLayer(h, C.int(i)); l != nil {
			d.layers = append(d.layers, describe(l))
		}
	}
	return d, nil
}

// close may be called twice; rows and layers are gone after it.
func (d *dataset) close() error {
	if d.handle != nil {
		C.GDALClose(d.handle)
		d.handle = nil
	}
	return nil
}

// describe reads what a layer is.
func describe(h C.OGRLayerH) *layer {
	l := &layer{handle: h, name: C.GoString(C.OGR_L_GetName(h))}
	// Owned by the layer and not to be freed, as is the reference system below.
	def := C.OGR_L_GetLayerDefn(h)
	for i := range int(C.OGR_FD_GetFieldCount(def)) {
		// Small letters, as package ssurgo asks for columns; databases differ in capitals.
		l.fields = append(l.fields, strings.ToLower(C.GoString(C.OGR_Fld_GetNameRef(C.OGR_FD_GetFieldDefn(def, C.int(i))))))
	}
	l.shapes = C.OGR_FD_GetGeomFieldCount(def) > 0
	if srs := C.OGR_L_GetSpatialRef(h); srs != nil {
		var text *C.char
		if C.OSRExportToWkt(srs, &text) == C.OGRERR_NONE {
			l.wkt = C.GoString(text)
		}
		C.CPLFree(unsafe.Pointer(text))
	}
	return l
}

// field returns the place of a field by its name in small letters, or -1.
func (l *layer) field(name string) C.int {
	for i, f := range l.fields {
		if f == name {
			return C.int(i)
		}
	}
	return -1
}

// row is one feature; it is valid during the call that hands it over.
type row struct {
	handle C.OGRFeatureH
	index  int
}

// text returns a value as text, empty when it is null: GDAL itself reads a null as 0.
func (r row) text(at C.int) string {
	if at < 0 || C.OGR_F_IsFieldSetAndNotNull(r.handle, at) == 0 {
		return ""
	}
	return C.GoString(C.OGR_F_GetFieldAsString(r.handle, at))
}

// shape returns the row's shape as well-known binary: plane polygons, curves drawn as lines; nil when it has none.
func (r row) shape() []byte {
	g := C.OGR_F_GetGeometryRef(r.handle)
	if g == nil {
		return nil
	}
	// A geodatabase may store arcs; the reader of well-known binary takes straight edges alone.
	plain := C.OGR_G_ForceToMultiPolygon(C.OGR_G_GetLinearGeometry(g, 0, nil)) // which frees what it was given
	if plain == nil {
		return nil
	}
	defer C.OGR_G_DestroyGeometry(plain)
	// Heights are of no use here, and the reader would only tell of them.
	C.OGR_G_FlattenTo2D(plain)
	n := int(C.OGR_G_WkbSize(plain))
	if n <= 0 {
		return nil
	}
	// Into memory of Go, which C fills during the call and does not keep.
	out := make([]byte, n)
	if C.OGR_G_ExportToIsoWkb(plain, C.wkbNDR, (*C.uchar)(unsafe.Pointer(&out[0]))) != C.OGRERR_NONE {
		return nil
	}
	return out
}

// rows calls each for every row and stops at its first error.
func (l *layer) rows(ctx context.Context, each func(row) error) error {
	C.OGR_L_ResetReading(l.handle)
	for i := 0; ; i++ {
		if i%1024 == 0 && ctx.Err() != nil {
			return context.Cause(ctx)
		}
		more, err := l.next(i, each)
		if err != nil || !more {
			return err
		}
	}
}

// next hands over one row; the thread is held because GDAL keeps its error by thread.
func (l *layer) next(i int, each func(row) error) (more bool, err error) {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	C.CPLErrorReset()
	h := C.OGR_L_GetNextFeature(l.handle)
	if h == nil {
		// No row is the end of the layer or an error; only the error state tells which.
		if C.CPLGetLastErrorType() >= C.CE_Failure {
			return false, fmt.Errorf("row %d: %s", i+1, C.GoString(C.CPLGetLastErrorMsg()))
		}
		return false, nil
	}
	defer C.OGR_F_Destroy(h)
	return true, each(row{h, i})
}
