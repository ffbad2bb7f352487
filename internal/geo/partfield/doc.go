// Package partfield reads field boundaries out of ISO 11783-10 task data: the partfields (PFD) of TASKDATA.XML with
// their boundary polygons (PLN of type 1). Coordinates are latitude and longitude on WGS 84, as the standard has them.
// Tasks, grids and products in the file are left alone.
package partfield
