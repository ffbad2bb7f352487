// Package interp makes a surface from points: soil tests at places become a value for every cell.
//
// Ordinary kriging weighs neighbours by how alike points are at each distance, which is fitted to the points themselves
// (the [Variogram]: range, sill, nugget), and says how far off it may be. Inverse distance needs no fit and says nothing of its error. With
// few points neither is worth its name, and the nearest point or the mean stands in. Whatever is used, each point is
// estimated from the others and compared ([LeaveOneOut]): a surface that is no better than the mean is told as such.
//
//	s, err := interp.Interpolate(ctx, frame, samples, interp.Options{})
//	s.Values, s.Errors     // grids; errors are kriging standard errors
//	s.Variogram            // exponential, range 140 m, sill 0.21, nugget 0.03
//	s.Check.RMSE           // against s.Check.MeanRMSE of the mean alone
//
// Coordinates are those of a plane, in the unit of the frame. Values are plain numbers. Nothing is rounded and nothing
// is random: the same points give the same bytes, in any order of work.
package interp
