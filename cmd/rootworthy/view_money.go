package main

import (
	"rootworthy/export/money"
	"rootworthy/internal/diag"
	"rootworthy/internal/web"
	"rootworthy/suitability"
)

// reckoner works out the money for the page by the function of the verb money; nil without prices.
func (f *viewFlags) reckoner() web.Reckoner {
	if f.prices == "" {
		return nil
	}
	return func(r *suitability.Result, faults *diag.List) (*money.Book, error) {
		m := moneyFlags{prices: f.prices, draws: usualMoneyDraws, plan: f.plan}
		m.plan.tests, m.plan.region = f.testFlags, f.region
		return m.bookOf(r, faults)
	}
}
