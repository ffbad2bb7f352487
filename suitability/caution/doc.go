// Package caution lists what can hurt people, animals or the crop, as codes by the step of the work at which each is told. The words
// are in export/words. A label, a veterinarian and a licensed adviser go before every one of them.
package caution
