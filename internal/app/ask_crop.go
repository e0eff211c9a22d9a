package app

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"haulm/internal/crop"
	"haulm/internal/cropping"
	"haulm/internal/garden"
	"haulm/internal/ground"
	"haulm/internal/kitchen"
	"haulm/internal/plan"
	"haulm/internal/unit"
)

// AskWithout tells what it costs to do without some crops or dishes: none of them is
// planted any more; what stands of them is still eaten.
func (d *Desk) AskWithout(ctx context.Context, names []string, q AskQuestion) (*Difference, error) {
	if len(names) == 0 {
		return nil, errors.New("name the crops to do without")
	}
	var all []named
	for _, name := range names {
		who, err := d.named(name)
		if err != nil {
			return nil, err
		}
		all = append(all, who)
	}
	a, err := d.asking(q)
	if err != nil {
		return nil, err
	}
	return a.without(ctx, all)
}

func (a *asking) without(ctx context.Context, all []named) (*Difference, error) {
	narrow, ceiling := a.lay.Problem, 0.0
	var said, dishes []string
	for _, who := range all {
		at := dishAt(a.lay, who.dish)
		if at < 0 {
			return nil, fmt.Errorf("the table does not want %s, so the plan is without it already; the dishes it wants: %s", who.words, strings.Join(dishNames(a.lay), ", "))
		}
		said, dishes = append(said, who.words), append(dishes, who.dish)
		if who.crop == nil {
			narrow = narrow.WithoutCrops([]int{at})
			ceiling += plan.Ceiling(a.lay.Problem, []int{at})
			continue
		}
		var err error
		cands := candsOf(a.lay, who.crop)
		if narrow, err = narrow.WithoutCandidates(cands); err != nil {
			return nil, err
		}
		ceiling += plan.CandidatesCeiling(a.lay.Problem, cands)
	}
	answer, pair, err := a.compare(ctx, a.lay.Problem, narrow, ceiling)
	if err != nil {
		return nil, err
	}
	answer.Question = "without " + unit.Listed(said)
	if len(plan.Validate(narrow, pair.Wide.Plantings)) == 0 {
		answer.Words = []string{
			fmt.Sprintf("The best plan found does not plant %s, so doing without costs nothing that the search could find.", unit.Listed(said)),
			answer.worthWords(),
		}
		return answer, nil
	}
	answer.Words = []string{
		fmt.Sprintf("Doing without %s costs this plan %s.", unit.Listed(said), portionsWorth(answer.Worth)),
		answer.worthWords(), answer.tableWords("with", "without"), shiftWords(answer.Shifts, dishes...),
	}
	answer.Words = slices.DeleteFunc(answer.Words, func(s string) bool { return s == "" })
	return answer, nil
}

// portionsWorth is an amount of worth in words.
func portionsWorth(x float64) string {
	switch {
	case x < 0.5:
		return "nothing that the search could find"
	case x < 1.5:
		return "the worth of 1 first portion"
	}
	return fmt.Sprintf("the worth of %s first portions", count(x))
}

// AskWith tells what it costs or brings to grow a crop on at least so much ground, in
// one piece: m², or pots. A dish that the table does not want yet is taken as usual
// households take it, if AskWith is to say what it brings.
func (d *Desk) AskWith(ctx context.Context, name string, m2 float64, q AskQuestion) (*Difference, error) {
	if !(m2 > 0) || m2 > mostAskedM2 {
		return nil, fmt.Errorf("%g m² of it: ask for something above 0 and up to %d", m2, mostAskedM2)
	}
	who, err := d.named(name)
	if err != nil {
		return nil, err
	}
	a, err := d.asking(q)
	if err != nil {
		return nil, err
	}
	if dishAt(a.lay, who.dish) < 0 {
		return d.askNew(ctx, a, who, m2)
	}
	return a.force(ctx, who, m2)
}

// mostAskedM2 is beyond any kitchen garden's bed.
const mostAskedM2 = 500

// force compares the plan with one that has such a planting.
func (a *asking) force(ctx context.Context, who named, m2 float64) (*Difference, error) {
	pair, forced, err := a.forced(ctx, who, m2)
	if err != nil {
		return nil, err
	}
	answer, err := a.differ(pair, a.lay.Problem, forced)
	if err != nil {
		return nil, err
	}
	answer.Question = fmt.Sprintf("with %s on at least %.4g m²", who.words, m2)
	first := fmt.Sprintf("Growing at least %.4g m² of %s in one piece costs %s against the best plan found, which is free not to.", m2, who.words, portionsWorth(answer.Worth))
	if answer.Worth < 0.5 {
		first = fmt.Sprintf("Growing at least %.4g m² of %s in one piece costs nothing that the search could find: a plan with it is as good.", m2, who.words)
	}
	answer.Words = append([]string{first}, answer.worthWords(), answer.tableWords("left free", "with it"))
	if words := shiftWords(answer.Shifts); words != "" {
		answer.Words = append(answer.Words, words)
	}
	return answer, nil
}

// forced tries the most promising places for the planting and compares the best.
func (a *asking) forced(ctx context.Context, who named, m2 float64) (plan.Pair, *plan.Problem, error) {
	p, at := a.lay.Problem, dishAt(a.lay, who.dish)
	o := a.options()
	o.Keep, o.Seconds, o.Iterations = a.kept, o.Seconds*forceBase, (o.Iterations+1)/2
	base := plan.Solve(ctx, p, o, nil)
	var places []plan.Planting
	strips := int(math.Ceil(m2/ground.StripM2 - 1e-9))
	for _, pl := range plan.Openings(p, at, strips, base.Plantings, base.Duals) {
		if place, _, ok := a.lay.PlaceOf(pl.Bed); ok && place.Kind != garden.Pots && (who.crop == nil || a.lay.CropOf(pl.Cand) == who.crop) {
			places = append(places, pl)
		}
	}
	if len(places) == 0 {
		return plan.Pair{}, nil, fmt.Errorf("nowhere in this garden can %.4g m² of %s stand in one piece, in ground that is free, sunny enough and rested: ask for less, or see its families on the Ground page", m2, who.words)
	}
	best := plan.Result{}
	var forced *plan.Problem
	for i, pl := range places[:min(forceTries, len(places))] {
		problem := p.WithFixed(pl)
		o.Keep, o.Seconds = base.Plantings, a.Seconds*forceEach
		if r := plan.Solve(ctx, problem, o, nil); i == 0 || r.Value > best.Value {
			best, forced = r, problem
		}
	}
	o = a.options()
	o.Seconds *= forceLast
	pair := plan.Compare(ctx, p, forced, best.Plantings, o, math.Inf(1), nil)
	return pair.AnyOf(), forced, nil
}

// The parts of the time for a look at the ground, for each of the places tried, and
// for the comparison with the best.
const (
	forceBase  = 0.15
	forceEach  = 0.1
	forceTries = 3
	forceLast  = 0.55
)

// askNew asks what a dish that the table does not want yet would bring.
func (d *Desk) askNew(ctx context.Context, a *asking, who named, m2 float64) (*Difference, error) {
	g, err := d.Garden()
	if err != nil {
		return nil, err
	}
	want := garden.Want{Dish: who.dish, PortionsPerWeek: float64(g.Household.People), Liking: 1}
	if usual := kitchen.DefaultWants([]string{who.dish}, g.Household.People); len(usual) > 0 {
		want = usual[0]
	}
	before := a.lay
	if a.lay, a.kept, err = before.ForAsking(a.kept, want); err != nil {
		return nil, err
	}
	at := dishAt(a.lay, who.dish)
	wide := a.lay.Problem
	narrow := wide.WithoutCrops([]int{at})
	answer, pair, err := a.compare(ctx, wide, narrow, plan.Ceiling(wide, []int{at}))
	if err != nil {
		return nil, err
	}
	asked := fmt.Sprintf("If the table took %s, %.3g portions a week in season,", who.words, want.PortionsPerWeek)
	grown := slices.ContainsFunc(pair.Wide.Plantings, func(pl plan.Planting) bool { return wide.Cands[pl.Cand].Crop == at })
	if !grown {
		answer, err := a.force(ctx, who, m2)
		if err != nil {
			return nil, err
		}
		answer.Words = append([]string{asked + " the best plan found would still not grow it."}, answer.Words...)
		return answer, nil
	}
	answer.Question = "with " + who.words
	answer.Words = append([]string{fmt.Sprintf("%s it would add %s to the plan.", asked, portionsWorth(answer.Worth))},
		answer.worthWords(), answer.tableWords("with it", "without"))
	return answer, nil
}

// named is a dish, or one crop of a dish that several make.
type named struct {
	words string
	dish  string
	crop  *crop.Crop // nil = the whole dish
}

// named finds a dish or a crop by any of its names.
func (d *Desk) named(name string) (named, error) {
	clean := strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(name, "_", " ")), " "))
	makers := map[string]int{}
	for _, c := range d.Catalogue.Crops() {
		if makers[c.Dish]++; strings.ToLower(c.Dish) == clean {
			return named{c.Dish, c.Dish, nil}, nil
		}
	}
	c, err := d.Catalogue.Find(name)
	if err != nil {
		return named{}, err
	}
	if makers[c.Dish] == 1 {
		return named{c.Dish, c.Dish, nil}, nil
	}
	return named{crop.InSentence(c.Name), c.Dish, c}, nil
}

func dishAt(lay *cropping.Lay, dish string) int {
	return slices.IndexFunc(lay.Dishes(), func(d cropping.Dish) bool { return d.Name == dish })
}

func dishNames(lay *cropping.Lay) []string {
	var names []string
	for _, d := range lay.Dishes() {
		names = append(names, d.Name)
	}
	return names
}

func candsOf(lay *cropping.Lay, c *crop.Crop) []int {
	var out []int
	for i := range lay.Problem.Cands {
		if lay.CropOf(i) == c {
			out = append(out, i)
		}
	}
	return out
}
