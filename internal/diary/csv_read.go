package diary

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"haulm/internal/calendar"
	"haulm/internal/garden"
	"haulm/internal/unit"
)

// mostCSVBytes is more than a lifetime of diary takes: 150,000 lines or so.
const mostCSVBytes = 16 << 20

// Fault is what is wrong with one line of a file.
type Fault struct {
	Line int
	What string
}

// Error names the line.
func (f Fault) Error() string { return fmt.Sprintf("line %d: %s", f.Line, f.What) }

// ReadCSV reads a diary as a table: that of WriteCSV, or one written by hand,
// which needs no more than the columns day and what. Cells may be parted by
// commas, semicolons or tabs. A file with a fault in any line gives the first
// fault, with the number of others, and no rows; doubts are what is odd about
// rows that are taken all the same.
func ReadCSV(r io.Reader, c Context) (rows []Row, doubts []string, err error) {
	text, err := io.ReadAll(io.LimitReader(r, mostCSVBytes+1))
	if err != nil {
		return nil, nil, fmt.Errorf("the file cannot be read: %w", err)
	}
	if len(text) > mostCSVBytes {
		return nil, nil, fmt.Errorf("the file is larger than %d MB: that is no diary", mostCSVBytes>>20)
	}
	if !utf8.Valid(text) || bytes.IndexByte(text, 0) >= 0 {
		return nil, nil, errors.New("the file is no text in UTF-8: save it from the spreadsheet as CSV UTF-8")
	}
	t := &tableReading{context: c, numbers: map[int64]int{}}
	if err := t.read(bytes.TrimPrefix(text, []byte(byteOrderMark))); err != nil {
		return nil, nil, err
	}
	switch more := len(t.faults) - 1; {
	case more > 0:
		return nil, nil, fmt.Errorf("%w; %s more with faults", t.faults[0], unit.Counted(more, "line", "lines"))
	case more == 0:
		return nil, nil, t.faults[0]
	}
	return t.rows, t.doubts, nil
}

// tableReading is a table on its way to being read.
type tableReading struct {
	context Context
	at      map[string]int // column of a name
	width   int            // columns up to the last that has a name
	numbers map[int64]int  // line of the file in which a number stands
	rows    []Row
	doubts  []string
	faults  []error
}

func (t *tableReading) read(text []byte) error {
	head, _, _ := bytes.Cut(text, []byte("\n"))
	in := csv.NewReader(bytes.NewReader(text))
	in.FieldsPerRecord = -1
	for _, sign := range []byte("\t;") {
		if bytes.IndexByte(head, sign) >= 0 && bytes.IndexByte(head, ',') < 0 {
			in.Comma = rune(sign)
		}
	}
	for {
		cells, err := in.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			return Fault{bad.StartLine, "its quotes do not close: put words that hold a comma or a quote in double quotes, and double a quote within them"}
		}
		if err != nil {
			return err
		}
		line, _ := in.FieldPos(0)
		if t.at == nil {
			if err := t.takeHead(line, cells); err != nil {
				return err
			}
			continue
		}
		if err := t.takeRow(line, cells); err != nil {
			t.faults = append(t.faults, Fault{line, err.Error()})
		}
	}
	if t.at == nil {
		return fmt.Errorf("the file is empty: its first line names the columns, such as %s", strings.Join(columns, ","))
	}
	return nil
}

// takeHead reads the names of the columns.
func (t *tableReading) takeHead(line int, cells []string) error {
	t.at = map[string]int{}
	for i, cell := range cells {
		name := strings.ToLower(strings.TrimSpace(cell))
		if name == "" {
			continue
		}
		if !slices.Contains(columns, name) {
			return Fault{line, fmt.Sprintf("a diary has no column %q%s; the first line names the columns, out of %s", brief(name), meant(name, columns), strings.Join(columns, ", "))}
		}
		if _, twice := t.at[name]; twice {
			return Fault{line, fmt.Sprintf("the column %q comes twice: keep one of them", name)}
		}
		t.at[name], t.width = i, i+1
	}
	for _, name := range []string{"day", "what"} {
		if _, there := t.at[name]; !there {
			return Fault{line, fmt.Sprintf("the column %q is missing: the first line names the columns, and a diary needs at least day and what", name)}
		}
	}
	return nil
}

// takeRow reads one line of the table; one without anything in it is passed
// over.
func (t *tableReading) takeRow(line int, cells []string) error {
	if !slices.ContainsFunc(cells, func(s string) bool { return strings.TrimSpace(s) != "" }) {
		return nil
	}
	if len(cells) > t.width && slices.ContainsFunc(cells[t.width:], func(s string) bool { return s != "" }) {
		return fmt.Errorf("it has %d cells where the first line names %d: put words that hold a comma in double quotes", len(cells), t.width)
	}
	cell := func(name string) string {
		if i, there := t.at[name]; there && i < len(cells) {
			return wordsOf(cells[i])
		}
		return ""
	}
	_, linked := t.at["planting"]
	r := Row{Line: line, Linked: linked, PhotoFile: cell("photo")}
	r.Planting, r.Cause, r.Text = cell("planting"), cell("cause"), cell("words")
	for _, take := range []func(*Row, func(string) string) error{t.takeNumber, t.takeWhat, t.takeAmount, t.takeWhere} {
		if err := take(&r, cell); err != nil {
			return err
		}
	}
	if err := t.check(r); err != nil {
		return err
	}
	t.rows = append(t.rows, r)
	return nil
}

// takeNumber reads the number that the line had in its diary.
func (t *tableReading) takeNumber(r *Row, cell func(string) string) error {
	text := cell("line")
	if text == "" {
		return nil
	}
	number, err := strconv.ParseInt(text, 10, 64)
	if err != nil || number <= 0 {
		return fmt.Errorf("%q is no line number: leave the column line as it was written, or empty", brief(text))
	}
	if other, twice := t.numbers[number]; twice {
		return fmt.Errorf("the number %d stands in line %d already: leave the column line empty in one of them", number, other)
	}
	t.numbers[number], r.ID = r.Line, number
	return nil
}

// takeWhat reads day and kind; the kind may be any word that a line takes.
func (t *tableReading) takeWhat(r *Row, cell func(string) string) error {
	if err := r.takeDay(cell("day")); err != nil {
		return err
	}
	said := plain(cell("what"))
	r.Kind = Kind(said)
	if slices.Contains(Kinds(), r.Kind) {
		return nil
	}
	var names []string
	for _, phrase := range kindPhrases {
		if phrase.words == said {
			r.Kind = phrase.kind
			return nil
		}
		names = append(names, phrase.words)
	}
	return fmt.Errorf("%q is nothing that the diary knows to happen%s; use one of %s", brief(cell("what")), meant(said, names), kindList())
}

// takeDay reads the day of the line.
func (r *Row) takeDay(text string) error {
	day, err := calendar.Parse(text)
	switch {
	case err == nil:
		r.Day = day
		return nil
	case text == "":
		return errors.New("the day is missing: write it as 2027-05-12")
	case isoLike(text):
		return fmt.Errorf("%q is no day of the calendar: correct it", text)
	}
	return fmt.Errorf("%q is no day: write it as 2027-05-12 (in a spreadsheet, give the column the format YYYY-MM-DD)", brief(text))
}

func (t *tableReading) takeAmount(r *Row, cell func(string) string) error {
	number, u := cell("amount"), cell("unit")
	if number == "" && u == "" {
		return nil
	}
	if family(r.Kind) == nil {
		return fmt.Errorf("%q takes no amount: leave amount and unit empty", r.Kind)
	}
	amount, err := strconv.ParseFloat(decimalPoint(plain(number)), 64)
	if err != nil || math.IsNaN(amount) || math.IsInf(amount, 0) {
		return fmt.Errorf("%q is no amount: write a number such as 0.8, or leave amount and unit empty", brief(number))
	}
	if u == "" {
		return fmt.Errorf("the amount %s has no unit: write one of %s in the column unit", number, unitList(r.Kind))
	}
	r.Amount, r.Unit = amount, Unit(u)
	if takes(r.Kind, r.Unit) {
		return nil
	}
	if known, ok := unitWords[plain(u)]; ok && takes(r.Kind, known) {
		r.Unit = known
		return nil
	}
	return fmt.Errorf("%q is no unit for %q: use %s", brief(u), r.Kind, unitList(r.Kind))
}

func unitList(k Kind) string {
	var names []string
	for _, u := range family(k) {
		names = append(names, string(u))
	}
	return strings.Join(names, ", ")
}

// takeWhere reads crop and place. A place that is no more is kept as it was
// called.
func (t *tableReading) takeWhere(r *Row, cell func(string) string) error {
	said := cell("crop")
	if said == "" {
		said = cell("crop_name")
	}
	if r.Crop = said; said != "" && t.context.Catalogue != nil && t.context.Catalogue.Crop(said) == nil {
		c, err := t.context.Catalogue.Find(said)
		if err != nil {
			return err
		}
		r.Crop = c.Key
	}
	r.Place = cell("place")
	if _, there := t.context.place(r.Place); there {
		return nil
	}
	for _, p := range t.context.Places {
		if plain(p.Name) == plain(r.Place) {
			r.Place = p.Name
			break
		}
	}
	return nil
}

// check refuses what cannot be true anywhere. What this garden as it is now
// cannot have given is only doubted: beds come and go.
func (t *tableReading) check(r Row) error {
	for _, err := range []error{checkDay(r.Entry, t.context), checkNeeds(r.Entry), checkSense(r.Entry)} {
		if err != nil {
			return err
		}
	}
	if _, there := t.context.place(r.Place); r.Place != "" && !there {
		t.doubt(r.Line, fmt.Sprintf("no place is called %q now%s", brief(r.Place), meant(r.Place, t.placeNames())))
	} else if err := checkAgainstGround(r.Entry, t.context); err != nil {
		t.doubt(r.Line, err.Error())
	}
	return nil
}

func (t *tableReading) placeNames() []string {
	var names []string
	for _, p := range t.context.Places {
		names = append(names, p.Name)
	}
	return names
}

// meant offers the name that was most likely meant. A very long one is not
// looked for.
func meant(said string, names []string) string {
	if len(said) > longestName {
		return ""
	}
	if near := garden.Nearest(said, names); near != "" {
		return fmt.Sprintf(" (did you mean %q?)", near)
	}
	return ""
}

// longestName is more than anything is called.
const longestName = 80

// brief is a cell as an error quotes it.
func brief(cell string) string {
	if letters := []rune(cell); len(letters) > longestName {
		return string(letters[:longestName]) + "…"
	}
	return cell
}

func (t *tableReading) doubt(line int, what string) {
	t.doubts = append(t.doubts, Fault{line, what}.Error()+"; kept all the same")
}
