package app

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/cropping"
	"haulm/internal/diary"
	"haulm/internal/garden"
	"haulm/internal/ground"
	"haulm/internal/season"
)

// EnterQuestion takes one of the offers for a gap.
type EnterQuestion struct {
	Fill  FillQuestion
	Crop  string // season.Offer.CropKey
	Route string // … and its route and class; "" = whichever is offered
	Class string
}

// Entered is an offer that was taken.
type Entered struct {
	Offer season.Offer `json:"offer"`
	Key   string       `json:"planting"`
	Says  string       `json:"says"`
}

// enteredSetting keeps what was entered last, so that it can be taken back.
const enteredSetting = "entered"

// enteredLast is what UndoEnter takes back.
type enteredLast struct {
	Plan string `json:"plan"`           // mark of the plan that it made
	Line int64  `json:"line,omitempty"` // of the diary
	What string `json:"what,omitempty"` // crop and place
}

// outAgain says that it is taken back.
func (e enteredLast) outAgain() string {
	words := cmp.Or(e.What, "what was put in last") + " is out of the plan again"
	if e.Line != 0 {
		words += ", and its line out of the diary"
	}
	return words + ": all is as it was before"
}

// EnterOffer puts an offer for a gap into the plan, begun today, so that it is
// asked for, grown and reckoned like all that was planned; plants that are set
// out at once are written into the diary as well. UndoEnter takes both back.
func (d *Desk) EnterOffer(q EnterQuestion) (*Entered, error) {
	in, err := d.seasonInput(TodayQuestion{Day: q.Fill.Day})
	if err != nil {
		return nil, err
	}
	answer, err := d.fill(in, q.Fill)
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(answer.Offers, func(o season.Offer) bool {
		return o.CropKey == q.Crop && (q.Route == "" || o.RouteKey == q.Route) && (q.Class == "" || o.Class == q.Class)
	})
	if i < 0 {
		return nil, fmt.Errorf("%s is not among what can still go in there today; the offers are %s", d.cropName(q.Crop), offerNames(answer.Offers))
	}
	return d.enter(in, answer.Gap, answer.Offers[i])
}

func offerNames(offers []season.Offer) string {
	if len(offers) == 0 {
		return "none"
	}
	var names []string
	for i := range offers {
		names = append(names, offers[i].Name)
	}
	return strings.Join(names, ", ")
}

func (d *Desk) enter(in season.Input, gap season.Gap, o season.Offer) (*Entered, error) {
	place, _ := in.Garden.Place(gap.Place)
	d.mu.Lock()
	defer d.mu.Unlock()
	text, err := d.planText()
	if err != nil {
		return nil, err
	}
	saved, err := readSaved(text)
	if err != nil {
		return nil, err
	}
	monday := in.Today.Monday()
	if saved.From > monday {
		return nil, fmt.Errorf("the plan begins on %s: write the sowing into the diary when it is done (haulm note \"sown %s %s\")",
			saved.From.Format("2 January 2006"), o.Name, gap.Place)
	}
	saved.overtake(in, place, gap)
	s := cropping.Saved{Crop: o.CropKey, Class: o.Class, Route: o.RouteKey, Place: gap.Place, Start: monday}
	if gap.Until.Known() {
		s.Until = gap.Until.Monday()
	}
	if o.Ready {
		raised := raisedWeeks(d, o)
		s.SetOut, s.Start = monday, max(saved.From, monday.Add(-7*raised))
	}
	if s, err = d.putIn(saved, s, place, gap); err != nil {
		return nil, fmt.Errorf("%s cannot go into %s: %w", o.Name, s.Place, err)
	}
	return d.keepEntered(in, saved, s, o)
}

// putIn adds a planting to a plan, on all of the ground of a gap: as far as the
// strips go that it reaches into or, where those are not free, to the nearest.
func (d *Desk) putIn(saved *savedPlan, s cropping.Saved, place garden.Place, gap season.Gap) (cropping.Saved, error) {
	others := saved.Plantings
	saved.Value, saved.Bound, saved.Gap = 0, 0, 0 // nothing is proven of the plan with it
	why := ""
	for _, strips := range []func(garden.Place, int, int) (int, int){ground.StripsUnder, ground.StripsOver} {
		first, end := strips(place, gap.FromCM, gap.ToCM)
		s.FromCM, s.ToCM = ground.StripCM(place, first), ground.StripCM(place, end)
		saved.Plantings = append(slices.Clone(others), s)
		text, err := json.Marshal(saved)
		if err != nil {
			return s, err
		}
		told, err := d.retell(text)
		if err != nil {
			return s, err
		}
		i := slices.IndexFunc(told.Unfit, func(u cropping.Unfit) bool { return u.Saved == s })
		if i < 0 {
			return s, nil
		}
		why = told.Unfit[i].Why
	}
	return s, errors.New(why)
}

// raisedWeeks is how old plants of an offer are when they go out.
func raisedWeeks(d *Desk, o season.Offer) int {
	route, err := d.Catalogue.Crop(o.CropKey).Route(o.RouteKey)
	if err != nil {
		return 1
	}
	return max(1, int(math.Round((route.RaiseWeeksMin+route.RaiseWeeksMax)/2)))
}

// overtake lets the plan know what the season made of what it had on the gap:
// cleared or lost plantings end there, and what was never begun is dropped.
func (s *savedPlan) overtake(in season.Input, place garden.Place, gap season.Gap) {
	known := map[string]diary.Standing{}
	for _, k := range season.Known(in) {
		known[k.Key] = k
	}
	setOut := map[string]calendar.Date{} // as planned; None where nothing is raised
	for _, p := range season.Plantings(in) {
		setOut[p.Key] = p.SetOut
	}
	monday := in.Today.Monday()
	onGap := func(name string, fromCM, toCM int) bool {
		return name == place.Name && fromCM < gap.ToCM && gap.FromCM < toCM
	}
	var kept []cropping.Saved
	for _, p := range s.Plantings {
		k, ok := known[season.Key(p.Crop, p.Route, p.Place, p.FromCM, p.Start)]
		switch {
		case !ok || !onGap(p.Place, p.FromCM, p.ToCM):
		case k.Cleared.Known():
			p.Until = min(monday, max(p.Start.Add(7), k.Cleared.Monday().Add(7)))
			var held bool
			if p, held = goneIndoors(in, p, setOut[k.Key]); !held {
				continue
			}
		case !k.Begun.Known() && p.Start < monday:
			continue
		}
		kept = append(kept, p)
	}
	s.Plantings = kept
	for _, g := range in.Garden.Standing {
		k, ok := known[season.Key(g.Crop, g.Route, g.Place, g.FromCM, g.Started)]
		if ok && k.Cleared.Known() && onGap(g.Place, g.FromCM, g.ToCM) {
			s.Ended = append(s.Ended, cropping.Saved{
				Crop: g.Crop, Class: g.Class, Route: g.Route, Place: g.Place, FromCM: g.FromCM, ToCM: g.ToCM, Start: g.Started,
				Until: min(monday, k.Cleared.Monday().Add(7)),
			})
		}
	}
}

// keepEntered keeps the plan with the planting.
func (d *Desk) keepEntered(in season.Input, saved *savedPlan, s cropping.Saved, o season.Offer) (*Entered, error) {
	if err := d.keepText(*saved, 0); err != nil {
		return nil, err
	}
	d.planned = nil
	var err error
	e := &Entered{Offer: o, Key: season.Key(s.Crop, s.Route, s.Place, s.FromCM, s.Start)}
	e.Says = fmt.Sprintf("%s is in the plan for %s, to be begun today: tick it off on the morning's page when it is done", o.Name, s.Place)
	last := enteredLast{What: o.Name + ", " + s.Place + ","}
	if o.Ready {
		if last.Line, err = d.noteSetOut(in, s, e.Key); err != nil {
			return e, err
		}
		e.Says = fmt.Sprintf("%s is in the plan for %s, and in the diary as planted today", o.Name, s.Place)
	}
	return e, d.rememberEntered(last)
}

func (d *Desk) noteSetOut(in season.Input, s cropping.Saved, key string) (int64, error) {
	if d.file == nil {
		return 0, nil
	}
	return d.file.AddDiary(context.Background(), diary.Entry{Kind: diary.Planted, Day: in.Today, Place: s.Place, Crop: s.Crop, Planting: key}, d.now())
}

func (d *Desk) rememberEntered(last enteredLast) error {
	if d.file == nil {
		return nil
	}
	text, err := d.planText()
	if err != nil {
		return err
	}
	last.Plan = mark(text)
	kept, err := json.Marshal(last)
	if err != nil {
		return err
	}
	return d.file.SetSetting(context.Background(), enteredSetting, string(kept))
}

// UndoEnter takes the offer that was entered last out of the plan again, and
// its line out of the diary, and says what it was. It refuses where the plan
// has changed since.
func (d *Desk) UndoEnter() (string, error) {
	if d.file == nil {
		return "the plan is as it was", d.UndoPlan()
	}
	ctx := context.Background()
	kept, err := d.file.Setting(ctx, enteredSetting)
	if err != nil {
		return "", err
	}
	var last enteredLast
	if kept == "" || json.Unmarshal([]byte(kept), &last) != nil {
		return "", errors.New("nothing was entered into a gap that could be taken back")
	}
	d.mu.Lock()
	text, err := d.planText()
	d.mu.Unlock()
	if err != nil {
		return "", err
	}
	if mark(text) != last.Plan {
		return "", errors.New("the plan has changed since that was entered: change it on the Plan page")
	}
	if err := d.undoEntered(ctx, last); err != nil {
		return "", err
	}
	return last.outAgain(), d.file.SetSetting(ctx, enteredSetting, "")
}

func (d *Desk) undoEntered(ctx context.Context, last enteredLast) error {
	if last.Line != 0 {
		if err := d.file.RemoveDiary(ctx, last.Line, d.now()); err != nil {
			return err
		}
	}
	return d.UndoPlan()
}
