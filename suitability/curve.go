package suitability

// Point is a breakpoint of a [Curve]: the score at a value, and who says so.
type Point struct {
	Value, Score float64
	Source       string
	Status       Status
}

// Curve gives a score from 0 to 100 to a measured value: straight between its points, flat outside.
type Curve struct {
	Unit   string
	Points []Point // by rising value
}

// WordScore is the score of a class word of the survey.
type WordScore struct {
	Word   string
	Score  float64
	Source string
	Status Status
}

// WordScale gives a score to each class word, in the order of the survey's domain.
type WordScale []WordScore
