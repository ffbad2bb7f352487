// Reads lines of two hexadecimal WKB geometries: one as drawn, one as repaired by us. Writes for each line what GEOS
// makes of the first (GEOSMakeValid, by its lines), and how far ours is from it:
//   valid(drawn) valid(ours) parts(GEOS) holes(GEOS) area(GEOS) parts(ours) holes(ours) area(ours) area(symmetric difference)
#include <geos_c.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

// Notices say what is invalid about a drawing; that is asked for below.
static void quiet(const char *fmt, ...) { (void)fmt; }

static void note(const char *fmt, ...) {
  va_list ap;
  va_start(ap, fmt);
  vfprintf(stderr, fmt, ap);
  va_end(ap);
  fputc('\n', stderr);
}

// polygons returns the polygonal part of a geometry: lines and points that GEOS keeps of collapsed parts are left out.
static GEOSGeometry *polygons(const GEOSGeometry *g) {
  int n = GEOSGetNumGeometries(g), k = 0;
  GEOSGeometry **parts = malloc((n + 1) * sizeof *parts);
  int whole = GEOSGeomTypeId(g) == GEOS_POLYGON;
  for (int i = 0; i < n; i++) {
    const GEOSGeometry *p = whole ? g : GEOSGetGeometryN(g, i);
    if (GEOSGeomTypeId(p) == GEOS_MULTIPOLYGON) {
      for (int j = 0; j < GEOSGetNumGeometries(p); j++) {
        parts = realloc(parts, (n + k + 2) * sizeof *parts);
        parts[k++] = GEOSGeom_clone(GEOSGetGeometryN(p, j));
      }
    } else if (GEOSGeomTypeId(p) == GEOS_POLYGON && !GEOSisEmpty(p)) {
      parts[k++] = GEOSGeom_clone(p);
    }
  }
  GEOSGeometry *out = GEOSGeom_createCollection(GEOS_MULTIPOLYGON, parts, k);
  free(parts);
  return out;
}

static int holes(const GEOSGeometry *g) {
  int n = 0;
  for (int i = 0; i < GEOSGetNumGeometries(g); i++) n += GEOSGetNumInteriorRings(GEOSGetGeometryN(g, i));
  return n;
}

int main(void) {
  char *line = NULL;
  size_t cap = 0;
  ssize_t len;
  initGEOS(quiet, note);
  while ((len = getline(&line, &cap, stdin)) > 0) {
    char *first = strtok(line, " \n"), *second = strtok(NULL, " \n");
    if (!second) return 1;
    GEOSGeometry *in = GEOSGeomFromHEX_buf((unsigned char *)first, strlen(first));
    GEOSGeometry *ours = GEOSGeomFromHEX_buf((unsigned char *)second, strlen(second));
    if (!in || !ours) return 1;
    GEOSGeometry *made = GEOSMakeValid(in);
    if (!made) return 1;
    GEOSGeometry *want = polygons(made);
    GEOSGeometry *diff = GEOSSymDifference(want, ours);
    double a = 0, b = 0, d = -1;
    GEOSArea(want, &a);
    GEOSArea(ours, &b);
    if (diff) GEOSArea(diff, &d);
    printf("%d %d %d %d %.17g %d %d %.17g %.17g\n", GEOSisValid(in) == 1, GEOSisValid(ours) == 1,
           GEOSGetNumGeometries(want), holes(want), a, GEOSGetNumGeometries(ours), holes(ours), b, d);
    GEOSGeom_destroy(in);
    GEOSGeom_destroy(made);
    GEOSGeom_destroy(want);
    GEOSGeom_destroy(ours);
    if (diff) GEOSGeom_destroy(diff);
  }
  finishGEOS();
  return 0;
}
