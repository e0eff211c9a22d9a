package readings

import (
	"errors"
	"fmt"

	"haulm/internal/weather"
)

// readSENAMHI reads the Peruvian service's daily text: year month day rain
// maximum minimum, °C and mm, -99.9 missing, no header. Six bare numbers could
// be something else, so the columns have to prove themselves: rain is often
// nought and never below it, and the maximum is the higher of the two.
func readSENAMHI(l *lines, b *builder) error {
	b.rec.Source = "SENAMHI Peru"
	t := newTable()
	t.split, t.fields = splitBlanks, 6
	t.missing = missingCode
	t.date = partsDate(0, 1, 2)
	t.columns = []column{{3, weather.Rain, 1, 0}, {4, weather.Tmax, 1, 0}, {5, weather.Tmin, 1, 0}}
	var rows, dry, belowNought, upsideDown int
	t.check = func(row []string, line int) error {
		if len(row) > 6 {
			return fmt.Errorf("line %d has %d columns where year, month, day, rain, maximum and minimum are six; %s", line, len(row), rightHeader)
		}
		return nil
	}
	t.adjust = func(day *[weather.Variables]float64) {
		rows++
		if day[weather.Rain] == 0 {
			dry++
		}
		if day[weather.Rain] < 0 {
			belowNought++
		}
		if day[weather.Tmin] > day[weather.Tmax] {
			upsideDown++
		}
	}
	if err := t.read(l, b); err != nil {
		return err
	}
	if rows > 0 && (dry*10 < rows || belowNought*100 > rows || upsideDown*20 > rows) {
		return errors.New("six columns without a header could be year, month, day, rain, maximum, minimum, but the values say otherwise; " + rightHeader)
	}
	return nil
}
