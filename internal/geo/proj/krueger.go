package proj

import "math"

// krueger returns the coefficients of the series that leads from the conformal sphere to the transverse Mercator plane
// (alpha) and back (beta, signs reversed so that both are summed alike), for third flattening n.
//
// Source: as [transverseMercator], eqs. 35 and 36.
func krueger(n float64) (alpha, beta [6]float64) {
	alpha = [6]float64{
		n * (1./2 + n*(-2./3+n*(5./16+n*(41./180+n*(-127./288+n*7891/37800))))),
		n * n * (13./48 + n*(-3./5+n*(557./1440+n*(281./630-n*1983433/1935360)))),
		n * n * n * (61./240 + n*(-103./140+n*(15061./26880+n*167603/181440))),
		n * n * n * n * (49561./161280 + n*(-179./168+n*6601661/7257600)),
		n * n * n * n * n * (34729./80640 - n*3418889/1995840),
		n * n * n * n * n * n * 212378941 / 319334400,
	}
	beta = [6]float64{
		-n * (1./2 + n*(-2./3+n*(37./96+n*(-1./360+n*(-81./512+n*96199/604800))))),
		-n * n * (1./48 + n*(1./15+n*(-437./1440+n*(46./105-n*1118711/3870720)))),
		-n * n * n * (17./480 + n*(-37./840+n*(-209./4480+n*5569/90720))),
		-n * n * n * n * (4397./161280 + n*(-11./504-n*830251/7257600)),
		-n * n * n * n * n * (4583./161280 - n*108847/3991680),
		-n * n * n * n * n * n * 20648693 / 638668800,
	}
	return alpha, beta
}

// clenshaw adds Σ c[j-1] sin(2 j ζ) to ζ = ξ + iη, by Clenshaw's backward recurrence in complex numbers.
func clenshaw(c [6]float64, xi, eta float64) (float64, float64) {
	sin, cos := math.Sincos(2 * xi)
	sh, ch := math.Sinh(2*eta), math.Cosh(2*eta)
	// 2 cos(2ζ), then sin(2ζ)
	ar, ai := 2*cos*ch, -2*sin*sh
	var br, bi, pr, pi float64 // b[j+1] and b[j+2]
	for j := 5; j >= 0; j-- {
		br, bi, pr, pi = ar*br-ai*bi-pr+c[j], ar*bi+ai*br-pi, br, bi
	}
	sr, si := sin*ch, cos*sh
	return xi + sr*br - si*bi, eta + sr*bi + si*br
}
