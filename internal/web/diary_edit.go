package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/store"
	"haulm/internal/unit"
)

// editPage is one line of the diary to alter.
type editPage struct {
	ID                            int64
	Change                        int
	Words, Fault                  string
	Day, Kind, About, Place, Crop field
	Amount, Unit, Cause, Text     field
	Photo                         string // address of the photo; "" = none is kept
}

// diaryEdit is one line as a form.
func (p *Pages) diaryEdit(w http.ResponseWriter, r *http.Request) error {
	line, err := p.lineAsked(r)
	if err != nil {
		return err
	}
	page, err := p.editPage(line)
	if err != nil {
		return err
	}
	return p.showEdit(w, http.StatusOK, page)
}

func (p *Pages) showEdit(w http.ResponseWriter, status int, page editPage) error {
	return p.show(w, status, "diary_edit.html", sheet{Title: "A line of the diary", Nav: "diary", Body: page})
}

func (p *Pages) lineAsked(r *http.Request) (store.DiaryLine, error) {
	id, err := strconv.ParseInt(r.PathValue("id"), 10, 64)
	if err != nil {
		return store.DiaryLine{}, missing(fmt.Sprintf("the diary has no line %q", r.PathValue("id")), "Look at the diary.", "/diary")
	}
	return p.diaryLine(id)
}

func (p *Pages) editPage(line store.DiaryLine) (editPage, error) {
	c, err := p.desk.DiaryContext()
	if err != nil {
		return editPage{}, err
	}
	e := line.Entry
	page := editPage{ID: e.ID, Change: line.Change, Words: entryWords(e, p.desk.Catalogue),
		Day:    field{Name: "day", ID: "day", Label: "Day", Kind: "date", Value: e.Day.String()},
		Kind:   field{Name: "kind", ID: "kind", Label: "What happened", Kind: "select"},
		About:  field{Name: "about", ID: "about", Label: "To which planting", Kind: "select", Options: []choice{{"", "none in particular", false}}},
		Place:  field{Name: "place", ID: "place", Label: "Place, where no planting is meant", Kind: "select", Options: []choice{{"", "the whole garden", false}}},
		Crop:   field{Name: "crop", ID: "crop", Label: "Crop, where no planting is meant", Kind: "select", Options: []choice{{"", "none", false}}},
		Amount: field{Name: "amount", ID: "amount", Label: "How much", Kind: "number"},
		Unit:   field{Name: "unit", ID: "unit", Label: "counted in", Kind: "select"},
		Cause:  field{Name: "cause", ID: "cause", Label: "Lost to what", Kind: "text", Value: e.Cause},
		Text:   field{Name: "text", ID: "text", Label: "Words", Kind: "text", Value: e.Text},
	}
	if e.Photo {
		page.Photo = photoHref(e.ID, line.Change, false)
	}
	if e.Given() {
		page.Amount.Value = plain(e.Amount)
	}
	for _, kind := range diary.Kinds() {
		page.Kind.Options = append(page.Kind.Options, choice{string(kind), string(kind), false})
	}
	for _, name := range c.Places {
		page.Place.Options = append(page.Place.Options, choice{name.Name, name.Name, false})
	}
	for _, cr := range p.desk.Catalogue.Crops() {
		page.Crop.Options = append(page.Crop.Options, choice{cr.Key, cr.Name, false})
	}
	page.about(p, c, e)
	page.Kind, page.About = page.Kind.with(string(e.Kind)), page.About.with(e.Planting)
	page.Place, page.Crop = page.Place.with(e.Place), page.Crop.with(e.Crop)
	page.Unit.Options = allUnits
	page.Unit = page.Unit.with(string(e.Unit))
	return page, nil
}

// about lists the plantings place by place, so that the one chosen is short
// enough to be read on a phone; that of the entry too where it is of another year.
func (page *editPage) about(p *Pages, c diary.Context, e diary.Entry) {
	there := e.Planting == ""
	seen := map[string]bool{}
	for _, s := range c.Standing {
		there = there || s.Key == e.Planting
		group, day := s.Place, s.Begun
		if !s.Begun.Known() && s.Planned.Known() {
			group, day = s.Place+", planned", s.Planned
		}
		words := p.cropName(s.Crop)
		if strip := standingStrip(s, c.Places, unit.SystemOf(c.Imperial)); strip != "" {
			words += ", " + strip
		}
		if seen[group+words] && day.Known() {
			words += ", " + dayShort(day)
		}
		seen[group+words] = true
		page.About.group(group, choice{s.Key, words, false})
	}
	if !there {
		page.About.Options = append(page.About.Options, choice{e.Planting, "a planting of an earlier plan", false})
	}
}

// allUnits are every unit that an entry may carry.
var allUnits = []choice{
	{"", "–", false}, {string(diary.Gram), "g", false}, {string(diary.Kilogram), "kg", false}, {string(diary.Ounce), "oz", false},
	{string(diary.Pound), "lb", false}, {string(diary.Count), "pieces or plants", false}, {string(diary.Basin), "basins", false},
	{string(diary.Can), "cans", false}, {string(diary.Litre), "litres", false}, {string(diary.Gallon), "gallons", false},
	{string(diary.HoseMinute), "minutes of hose", false}, {string(diary.Millimetre), "mm", false}, {string(diary.Inch), "inches", false},
	{string(diary.Celsius), "°C", false}, {string(diary.Fahrenheit), "°F", false},
}

// diarySave writes an altered line over the old one, unless somebody else has
// altered it meanwhile.
func (p *Pages) diarySave(w http.ResponseWriter, r *http.Request) error {
	line, err := p.lineAsked(r)
	if err != nil {
		return err
	}
	change, err := strconv.Atoi(r.FormValue("change"))
	if err != nil {
		return invalid("the form did not arrive whole", "Open the line again.", "/diary")
	}
	e, err := p.entryOf(r, line.Entry)
	if err == nil {
		err = p.desk.EditNote(e, change)
	}
	if store.KindOf(err) == store.Exists {
		return &trouble{http.StatusConflict, err.Error(), "See the line as it is now.", diaryHref(e.ID)}
	}
	if err != nil {
		line.Entry, line.Change = e, change
		page, fault := p.editPage(line)
		if fault != nil {
			return fault
		}
		page.Fault, page.Amount.Value, page.Day.Value = capital(sentence(err.Error())), r.FormValue("amount"), r.FormValue("day")
		return p.showEdit(w, http.StatusUnprocessableEntity, page)
	}
	return seeOther(w, r, "/diary?wrote="+strconv.FormatInt(e.ID, 10))
}

// entryOf reads an entry from the form that alters it.
func (p *Pages) entryOf(r *http.Request, e diary.Entry) (diary.Entry, error) {
	e.Kind, e.Planting = diary.Kind(r.FormValue("kind")), r.FormValue("about")
	e.Place, e.Crop = r.FormValue("place"), r.FormValue("crop")
	e.Cause, e.Text = strings.TrimSpace(r.FormValue("cause")), strings.TrimSpace(r.FormValue("text"))
	e.Amount, e.Unit = 0, diary.NoUnit
	c, err := p.desk.DiaryContext()
	if err != nil {
		return e, err
	}
	if s, there := c.Planting(e.Planting); there {
		e.Place, e.Crop = s.Place, s.Crop
	}
	day, err := calendar.Parse(strings.TrimSpace(r.FormValue("day")))
	if err != nil {
		return e, err
	}
	e.Day = day
	return e, amountInto(&e, r.FormValue("amount"), r.FormValue("unit"))
}

// diaryRemove takes a line out; undoing brings it back.
func (p *Pages) diaryRemove(w http.ResponseWriter, r *http.Request) error {
	line, err := p.lineAsked(r)
	if err != nil {
		return err
	}
	if err := p.desk.RemoveNote(line.ID); err != nil {
		return err
	}
	return seeOther(w, r, "/diary?removed=yes")
}

func diaryHref(id int64) string { return "/diary/" + strconv.FormatInt(id, 10) }
