package nutrient

// phosphorus is needed most in the year of sowing, when it can still be near the roots; it stays where it is put.
func (t *Table) phosphorus(s Soil) Need { return t.matrix(Phosphorus, s) }
