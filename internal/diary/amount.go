package diary

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// family is the sort of amount a kind of entry takes.
func family(k Kind) []Unit {
	switch k {
	case Rain:
		return []Unit{Millimetre, Inch}
	case Low:
		return []Unit{Celsius, Fahrenheit}
	case Watered, Fed:
		return []Unit{Litre, Can, Gallon, HoseMinute}
	case Sown, Up, PrickedOut, PottedOn, HardenedOff, Planted, Thinned:
		return []Unit{Count}
	case Picked, Stored:
		return []Unit{Gram, Kilogram, Ounce, Pound, Count, Basin}
	case Lost:
		return []Unit{Count, Percent, Gram, Kilogram, Ounce, Pound, Basin}
	}
	return nil
}

func isUnitFor(k Kind, word string) bool {
	u, ok := unitWords[word]
	return ok && takes(k, u)
}

func takes(k Kind, u Unit) bool {
	for _, f := range family(k) {
		if f == u {
			return true
		}
	}
	return false
}

// bareUnit is what a number without a unit is counted in.
func (r *reading) bareUnit() Unit {
	switch r.entry.Kind {
	case Rain:
		if r.context.Imperial {
			return Inch
		}
		return Millimetre
	case Low:
		if r.context.Imperial {
			return Fahrenheit
		}
		return Celsius
	case Watered, Fed:
		return Litre
	}
	return Count
}

// findAmount takes the amount out of the line: a number or a number word with
// its unit, or a bare number.
func (r *reading) findAmount() error {
	for i := range r.words {
		number, n, ok := r.numberAt(i)
		if !ok {
			continue
		}
		u, given := r.unitAt(i + n)
		if given && r.word(i+n) == "f" && r.entry.Kind != Low {
			given = false
		}
		if share, ok := shareWords[r.word(i)]; ok && !given && r.entry.Kind == Lost && !r.entry.Given() {
			r.entry.Amount, r.entry.Unit = share, Percent
			r.use(i, n)
			continue
		}
		if !given && !isDigits(r.word(i)) {
			continue // "a", "one" without a unit count nothing
		}
		if given && !takes(r.entry.Kind, u) {
			if u == Count || u == HoseMinute && r.entry.Kind != Watered {
				return fmt.Errorf("%s%q is no amount for %q; %s", r.understood(), r.words[i].typed+" "+r.word(i+n), r.entry.Kind, r.amountHint())
			}
			return fmt.Errorf("%s%s is no unit for %q; %s", r.understood(), r.word(i+n), r.entry.Kind, r.amountHint())
		}
		if !given {
			u = r.bareUnit()
		}
		if family(r.entry.Kind) == nil {
			return fmt.Errorf("%s%q takes no amount; put it after a semicolon", r.understood(), r.entry.Kind)
		}
		used := n
		if given {
			used++
			if u == Celsius && (r.word(i+used) == "c" || r.word(i+used) == "celsius") {
				used++ // "-2 degrees c"
			}
			if u == Celsius && (r.word(i+used) == "f" || r.word(i+used) == "fahrenheit") {
				u = Fahrenheit
				used++
			}
		}
		if err := r.addAmount(number, u); err != nil {
			return err
		}
		r.use(i, used)
	}
	return nil
}

// addAmount joins "3 lb 4 oz" and refuses two unlike amounts.
func (r *reading) addAmount(number float64, u Unit) error {
	switch {
	case !r.entry.Given():
		r.entry.Amount, r.entry.Unit = number, u
	case r.entry.Unit == Pound && u == Ounce:
		r.entry.Amount += number / 16
	case r.entry.Unit == Kilogram && u == Gram:
		r.entry.Amount += number / 1000
	case r.entry.Unit == Count && u != Count && weighs(u):
		r.entry.Text = strings.TrimSpace(fmt.Sprintf("%g of them. %s", r.entry.Amount, r.entry.Text)) // "12 courgettes, 2 kg"
		r.entry.Amount, r.entry.Unit = number, u
	case u == Count && weighs(r.entry.Unit):
		r.entry.Text = strings.TrimSpace(fmt.Sprintf("%g of them. %s", number, r.entry.Text))
	default:
		return fmt.Errorf("%sanother amount follows (%g %s); write one line for each", r.understood(), number, u)
	}
	return nil
}

func weighs(u Unit) bool { return !math.IsNaN(Entry{Amount: 1, Unit: u}.Kg()) }

func (r *reading) unitAt(i int) (Unit, bool) {
	word := r.word(i)
	if word == "of" || word == "a" {
		word = r.word(i + 1)
	}
	u, ok := unitWords[word]
	if ok && u == Inch && r.entry.Kind != Rain {
		return NoUnit, false
	}
	return u, ok
}

func isDigits(word string) bool { return numberEnd(word) > 0 }

// numberAt reads a number at word i in figures or words, with how many words
// it takes.
func (r *reading) numberAt(i int) (value float64, n int, ok bool) {
	word := r.word(i)
	if word == "" {
		return 0, 0, false
	}
	if end := numberEnd(word); end == len(word) {
		value, err := strconv.ParseFloat(decimalPoint(word), 64)
		return value, 1, err == nil && !math.IsInf(value, 0)
	}
	if value, ok := numberWords[word]; ok {
		if next := r.word(i + 1); next == "a" || next == "an" { // half a basin
			if _, unit := unitWords[r.word(i+2)]; unit {
				return value, 2, true
			}
		}
		if next, ok := numberWords[r.word(i+1)]; ok && word == "a" { // a dozen
			return next, 2, true
		}
		return value, 1, true
	}
	return 0, 0, false
}

// decimalPoint turns a lone comma before one or two figures into a point, and
// drops commas between thousands.
func decimalPoint(word string) string {
	at := strings.LastIndexByte(word, ',')
	if at < 0 {
		return word
	}
	if strings.Count(word, ",") == 1 && !strings.Contains(word, ".") && len(word)-at-1 <= 2 {
		return strings.Replace(word, ",", ".", 1)
	}
	return strings.ReplaceAll(word, ",", "")
}

// amountHint says which units a kind takes.
func (r *reading) amountHint() string {
	var names []string
	for _, u := range family(r.entry.Kind) {
		name := string(u)
		switch u {
		case Count:
			name = "a plain number"
		case Percent:
			name = "half, a quarter, a third or per cent"
		case Can:
			name = "cans"
		case HoseMinute:
			name = "minutes of hose"
		case Basin:
			name = "basins"
		}
		names = append(names, name)
	}
	if len(names) == 0 {
		return "it takes none"
	}
	return "use " + strings.Join(names, ", ")
}
