package lab

import (
	"math"
	"strconv"
	"strings"
	"time"

	"rootworthy/soils/lab/workbook"
)

// dayOrder says which comes first in dates like 7/8/2022.
type dayOrder uint8

const (
	orderUnclear dayOrder = iota
	monthFirst            // 7/8 is July 8
	dayFirst              // 7/8 is August 7
)

// dayState is what became of a cell that should hold a date.
type dayState uint8

const (
	dayEmpty dayState = iota
	dayRead
	dayUnclear // day and month cannot be told apart
	dayBad
)

// Serials of a spreadsheet from 1954 to 2064; outside these a bare number is not taken for a date.
const firstSerial, lastSerial = 20000, 60000

// readDay reads a date in the forms that laboratories use, times of day ignored. It never guesses which of two small
// numbers is the month: the order comes from a date of the same column that leaves no choice, or from the mapping.
func readDay(cell string, order dayOrder) (time.Time, dayState) {
	s := strings.ToLower(squeeze(strings.ReplaceAll(cell, "\u00a0", " ")))
	// dates of nothing but zeros are what databases print for none
	if oneOf(s, notMeasured) || strings.Trim(s, "0/-.:t ") == "" {
		return time.Time{}, dayEmpty
	}
	// before it is split: a serial may have a point in it
	if n, err := strconv.ParseFloat(s, 64); err == nil {
		return bareNumber(s, n)
	}
	f := dateFields(s)
	if len(f) < 3 {
		return time.Time{}, dayBad
	}
	// four digits can be no day and no month
	if len(f[0]) == 4 && number(f[0]) > 0 { // year first
		return day(number(f[0]), monthNumber(f[1]), number(f[2]))
	}
	year := fullYear(f[2])
	if order == orderUnclear && len(f[2]) == 2 && strings.Count(s, "-") == 2 && number(f[0]) > 0 && number(f[1]) > 0 {
		return time.Time{}, dayUnclear // 22-07-08 has the year first as often as last
	}
	switch a, b := number(f[0]), number(f[1]); {
	case year == 0:
		return time.Time{}, dayBad
	// number is 0 for a word, so one zero beside a figure should be a month by name
	case a > 0 && b == 0: // 8 jul 2022
		return day(year, monthNumber(f[1]), a)
	case a == 0 && b > 0: // jul 8 2022
		return day(year, monthNumber(f[0]), b)
	// month first, where it makes no difference or leaves no other way
	case a == b || b > 12:
		return day(year, a, b)
	// no month is over 12, so these leave no choice
	case a > 12:
		return day(year, b, a)
	case order == monthFirst:
		return day(year, a, b)
	case order == dayFirst:
		return day(year, b, a)
	}
	return time.Time{}, dayUnclear
}

// bareNumber reads 20220708 and the serial day of a spreadsheet.
func bareNumber(s string, n float64) (time.Time, dayState) {
	// eight digits are a day written together; no serial is as long
	if len(s) == 8 && n == math.Trunc(n) {
		return day(number(s[:4]), number(s[4:6]), number(s[6:]))
	}
	if n >= firstSerial && n <= lastSerial {
		// a text does not say which system its spreadsheet counted by; the one from 1900 is the usual
		return workbook.SerialDay(n, false), dayRead
	}
	return time.Time{}, dayBad
}

// dateFields splits "2022-07-08t12:00:00z", "july 8, 2022" and "7/8/22 14:05" into their first three parts.
func dateFields(s string) []string {
	f := strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune("/-.,\\ ", r) })
	if len(f) >= 3 {
		if i := strings.IndexByte(f[2], 't'); i > 0 && f[2][0] <= '9' { // the day before a time of day
			f[2] = strings.TrimSuffix(f[2][:i], "th")
		}
	}
	for i, p := range f {
		// only behind a digit: august and thursday end in such letters as well
		if len(p) > 2 && p[0] <= '9' {
			f[i] = strings.TrimRight(p, "stndrh") // 1st, 2nd, 3rd, 8th
		}
	}
	// the name of the day tells nothing that the date does not
	if len(f) > 3 && len(f[0]) > 3 && strings.HasSuffix(f[0], "day") { // "friday, july 8, 2022"
		f = f[1:]
	}
	return f
}

// number reads digits; 0 is no day, month or year, and so stands for what is none.
func number(s string) int {
	n, err := strconv.Atoi(s)
	if err != nil || n < 0 {
		return 0
	}
	return n
}

var monthNames = []string{"jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"}

// monthNumber reads 7, 07, jul, july; 0 when it is none.
func monthNumber(s string) int {
	for i, m := range monthNames {
		// by its beginning, since all of jul, july and sept are written
		if strings.HasPrefix(s, m) {
			return i + 1
		}
	}
	return number(s)
}

// fullYear reads 2022 and 22; two digits below 70 are this century. 0 when it is none.
func fullYear(s string) int {
	switch y := number(s); {
	case len(s) == 4:
		return y
	case len(s) == 2 && y < 70:
		return 2000 + y
	case len(s) == 2:
		return 1900 + y
	}
	return 0
}

// day makes a date that exists; 31 February does not.
func day(y, m, d int) (time.Time, dayState) {
	// The library turns 31 February into 3 March, which tells that it was none.
	t := time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC)
	if y < 1900 || y > 2200 || t.Month() != time.Month(m) || t.Day() != d {
		return time.Time{}, dayBad
	}
	return t, dayRead
}

// orderOf tells the order from a column of dates: unclear when none of them tells, or when they contradict each other.
func orderOf(cells []string) dayOrder {
	var month, daily bool
	for _, c := range cells {
		f := dateFields(strings.ToLower(squeeze(c)))
		// year first leaves nothing to tell
		if len(f) < 3 || len(f[0]) > 2 {
			continue
		}
		a, b := number(f[0]), number(f[1])
		// one date such as 7/22 settles the order of the whole column
		month = month || a >= 1 && a <= 12 && b > 12 && b <= 31
		daily = daily || b >= 1 && b <= 12 && a > 12 && a <= 31
	}
	switch {
	// both, or neither: the column contradicts itself or does not tell
	case month && !daily:
		return monthFirst
	case daily && !month:
		return dayFirst
	}
	return orderUnclear
}
