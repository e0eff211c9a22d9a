package readings

import (
	"errors"
	"fmt"
	"math"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// yearBlock is one calendar year as read: values, and the line each came from
// (0 = not given). Index 0 is 1 January.
type yearBlock struct {
	value [weather.Variables][366]float64
	line  [weather.Variables][366]int32
	row   [366]int32 // line of the row that gave the day
}

// builder gathers days in any order, checks each value and keeps the books.
type builder struct {
	options    Options
	report     *Report
	rec        weather.Record
	blocks     map[int]*yearBlock
	first      int // lowest and highest year seen
	last       int
	seen       [weather.Variables]int
	beyond     [weather.Variables]int // values outside the limits
	fahrenheit bool                   // temperatures were given in °F
	lastDup    [2]int                 // line and date of the duplicate last listed
}

func newBuilder(o Options, formatName string) *builder {
	return &builder{options: o, report: &Report{Format: formatName}, blocks: map[int]*yearBlock{}}
}

// day is one day's place in a builder.
type day struct {
	date  calendar.Date
	block *yearBlock
	index int
}

// at finds the place of a date, or why it can have none.
func (b *builder) at(d calendar.Date, line int) (day, error) {
	if err := b.options.hasBeen(d, line); err != nil {
		return day{}, err
	}
	y := d.Year()
	block := b.blocks[y]
	if block == nil {
		if len(b.blocks) == 0 {
			b.first, b.last = y, y
		}
		b.first, b.last = min(b.first, y), max(b.last, y)
		if b.last-b.first >= weather.MaxYears {
			return day{}, fmt.Errorf("line %d: %s makes the record longer than %d years; mend the date", line, d, weather.MaxYears)
		}
		block = new(yearBlock)
		b.blocks[y] = block
	}
	return day{d, block, int(d - calendar.On(y, time.January, 1))}, nil
}

// clean is x, or NaN where it cannot be; listed says whether to report that.
func (b *builder) clean(v weather.Variable, x float64, d calendar.Date, line int, listed bool) float64 {
	if weather.Limits[v].Possible(x) {
		return x
	}
	if listed {
		b.beyond[v]++
		b.report.reject(line, d, fmt.Sprintf("%s %.4g %s cannot be: left out", weather.Limits[v].Name, x, weather.Limits[v].Unit))
	}
	return math.NaN()
}

// put stores one value where none was given before. A missing one is no value.
func (b *builder) put(at day, v weather.Variable, x float64, line int) {
	if math.IsNaN(x) {
		return
	}
	if kept := at.block.line[v][at.index]; kept != 0 {
		b.duplicate(at, line, at.block.value[v][at.index] == x, int(kept))
		return
	}
	b.seen[v]++
	x = b.clean(v, x, at.date, line, true)
	at.block.value[v][at.index] = x
	at.block.line[v][at.index] = int32(line)
}

// putOne stores one value of a day.
func (b *builder) putOne(d calendar.Date, v weather.Variable, x float64, line int) error {
	at, err := b.at(d, line)
	if err != nil {
		return err
	}
	b.put(at, v, x, line)
	return nil
}

// noValues is a row without any.
func noValues() (values [weather.Variables]float64) {
	for v := range values {
		values[v] = math.NaN()
	}
	return values
}

// putRow stores a whole day given in one row; NaN is a missing value.
func (b *builder) putRow(d calendar.Date, line int, values [weather.Variables]float64) error {
	at, err := b.at(d, line)
	if err != nil {
		return err
	}
	if kept := at.block.row[at.index]; kept != 0 {
		b.duplicate(at, line, b.sameRow(at, values), int(kept))
		return nil
	}
	at.block.row[at.index] = int32(line)
	for v, x := range values {
		b.put(at, weather.Variable(v), x, line)
	}
	return nil
}

func (b *builder) sameRow(at day, values [weather.Variables]float64) bool {
	for v, x := range values {
		kept := at.block.value[v][at.index]
		if at.block.line[v][at.index] == 0 {
			kept = math.NaN()
		}
		x = b.clean(weather.Variable(v), x, at.date, 0, false)
		if kept != x && !(math.IsNaN(kept) && math.IsNaN(x)) {
			return false
		}
	}
	return true
}

// duplicate counts a day that came again, and lists it where it differs.
func (b *builder) duplicate(at day, line int, same bool, kept int) {
	if b.lastDup == [2]int{line, int(at.date)} {
		return
	}
	b.lastDup = [2]int{line, int(at.date)}
	b.report.Duplicates++
	if !same {
		b.report.reject(line, at.date, fmt.Sprintf("the day stands already in line %d with other values: the first is kept", kept))
	}
}

// finish checks the whole and makes the record.
func (b *builder) finish() (*weather.Record, *Report, error) {
	if err := b.checkUnits(); err != nil {
		return nil, nil, err
	}
	b.checkDays()
	from, to, ok := b.span()
	if !ok {
		return nil, nil, b.nothing()
	}
	b.assemble(from, to)
	for _, v := range []weather.Variable{weather.Tmin, weather.Tmax} {
		if !weather.AnyKnown(b.rec.Series(v)) {
			return nil, nil, fmt.Errorf("the file holds no %s temperatures; Haulm needs both the minimum and the maximum of each day", weather.Limits[v].Name)
		}
	}
	if err := b.checkMeans(); err != nil {
		return nil, nil, err
	}
	b.report.sort()
	return &b.rec, b.report, nil
}

func (b *builder) nothing() error {
	if len(b.report.Rejected) > 0 {
		b.report.sort()
		first := b.report.Rejected[0]
		return fmt.Errorf("no day could be read; line %d: %s", first.Line, first.What)
	}
	return errors.New("the file holds no day of weather; " + rightHeader)
}

// each visits every day that was given anything, in order.
func (b *builder) each(visit func(at day)) {
	if len(b.blocks) == 0 {
		return
	}
	for y := b.first; y <= b.last; y++ {
		block := b.blocks[y]
		if block == nil {
			continue
		}
		start := calendar.On(y, time.January, 1)
		for i := range int(calendar.On(y+1, time.January, 1) - start) {
			for v := range weather.Variables {
				if block.line[v][i] != 0 {
					visit(day{start.Add(i), block, i})
					break
				}
			}
		}
	}
}

// value is what was kept of a variable, NaN where nothing was.
func (at day) value(v weather.Variable) float64 {
	if at.block.line[v][at.index] == 0 {
		return math.NaN()
	}
	return at.block.value[v][at.index]
}

func (at day) drop(v weather.Variable) { at.block.value[v][at.index] = math.NaN() }

// span is the first day and the day after the last on which anything is known.
func (b *builder) span() (from, to calendar.Date, ok bool) {
	b.each(func(at day) {
		for v := range weather.Variables {
			if !math.IsNaN(at.value(v)) {
				if !ok {
					from, ok = at.date, true
				}
				to = at.date + 1
				b.report.Days++
				return
			}
		}
	})
	return from, to, ok
}

func (b *builder) assemble(from, to calendar.Date) {
	b.rec.Start = from
	for v := range weather.Variables {
		days := weather.MissingDays(int(to - from))
		known := false
		b.each(func(at day) {
			if x := at.value(v); !math.IsNaN(x) {
				days[at.date-from] = x
				known = true
			}
		})
		if known || v <= weather.Rain {
			b.rec.SetSeries(v, days)
		}
	}
}
