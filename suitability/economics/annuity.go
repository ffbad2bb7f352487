package economics

import "math"

// Annuity returns what one unit of money at the end of each year is worth today.
//
//	(1 - (1+i)^-n) / i, and n where i is 0
//
// Source: textbook, closed form of the geometric series. Between whole years it follows the same curve.
// Range: rate over -1, years not negative; outside it NaN.
func Annuity(rate, years float64) float64 {
	// asked for and not its outside, so that NaN is refused as well
	if !(rate > -1 && years >= 0) {
		return math.NaN()
	}
	// By way of logarithms, so that a rate near zero loses no digits.
	x := math.Log1p(rate) * years
	if rate == 0 {
		return years
	}
	return -math.Expm1(-x) / rate
}

// CapitalRecovery returns the equal payment at the end of each year that pays one unit of money back with interest.
//
//	i / (1 - (1+i)^-n), and 1/n where i is 0
//
// Source: textbook; 250 at 6 % over 4 years is 72.15 (from memory, not checked).
// Range: rate over -1, years over 0; outside it NaN.
func CapitalRecovery(rate, years float64) float64 {
	if !(years > 0) {
		return math.NaN()
	}
	return 1 / Annuity(rate, years)
}

// Discount returns what one unit of money in some years is worth today: (1+i)^-t. Years need not be whole: lime is ready in the middle of
// one.
func Discount(rate, years float64) float64 { return math.Exp(-math.Log1p(rate) * years) }

// Flow is money that comes or goes at a time.
type Flow struct {
	Years float64 // from today
	Money Money   // what goes is negative
}

// PresentValue returns what flows are worth today: their sum, each discounted.
func PresentValue(rate float64, flows []Flow) Money {
	sum := Money(0)
	for _, f := range flows {
		sum += f.Money * Money(Discount(rate, f.Years))
	}
	return sum
}

// YearsToRecover returns how many equal yearly payments pay a sum back with interest; ok is false where they never do.
//
//	n = -ln(1 - i·sum/payment) / ln(1+i), and sum/payment where i is 0
//
// Source: textbook, [Annuity] solved for its years.
func YearsToRecover(rate, sum, payment float64) (years float64, ok bool) {
	if sum <= 0 {
		return 0, true
	}
	// the interest alone is as much as the payment, or more: the sum never falls
	if !(payment > 0) || rate*sum/payment >= 1 {
		return 0, false
	}
	if rate == 0 {
		return sum / payment, true
	}
	return -math.Log1p(-rate*sum/payment) / math.Log1p(rate), true
}

// BreakEvenYield returns the yield at which hay pays what is fixed, each in the same units of mass and ground.
//
//	yield = fixed / (price - harvest)
//
// Source: definition. ok is false where harvest costs as much as hay brings.
func BreakEvenYield(fixed, price, harvest float64) (yield float64, ok bool) {
	// every mass cut loses money, so no yield pays for anything
	if !(price > harvest) {
		return 0, false
	}
	return fixed / (price - harvest), true
}
