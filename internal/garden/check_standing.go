package garden

import (
	"fmt"
	"slices"
	"strings"
)

func checkStanding(g *Garden) error {
	if err := fewEnough("standing crops", len(g.Standing)); err != nil {
		return err
	}
	for _, s := range g.Standing {
		subject := fmt.Sprintf("%s standing in %q", s.Crop, s.Place)
		if err := firstOf(
			named("a standing crop", s.Crop),
			checkStretch(g, subject, s.Place, s.FromCM, s.ToCM),
			plainOrEmpty(subject+": the route", s.Route),
			plainOrEmpty(subject+": the class", s.Class),
		); err != nil {
			return err
		}
		if !s.Started.Known() {
			return fmt.Errorf("%s: the day it was sown or planted is missing; a guess within a fortnight will do", subject)
		}
		if err := within(subject, "the year it was started", float64(s.Started.Year()), minYear, maxYear, ""); err != nil {
			return err
		}
		if s.SetOut.Known() && (s.SetOut < s.Started || s.SetOut.Year() > maxYear) {
			return fmt.Errorf("%s: set out on %s but started on %s; put the dates in order", subject, s.SetOut, s.Started)
		}
	}
	return nil
}

// checkOverlap refuses two standing crops on the same ground.
func checkOverlap(g *Garden) error {
	order := slices.Clone(g.Standing)
	slices.SortStableFunc(order, func(a, b Standing) int {
		if c := strings.Compare(a.Place, b.Place); c != 0 {
			return c
		}
		return a.FromCM - b.FromCM
	})
	for i := 1; i < len(order); i++ {
		a, b := order[i-1], order[i]
		if a.Place == b.Place && b.FromCM < a.ToCM {
			return fmt.Errorf("place %q: %s (%d to %d cm) and %s (%d to %d cm) stand on the same ground; shorten one",
				a.Place, a.Crop, a.FromCM, a.ToCM, b.Crop, b.FromCM, b.ToCM)
		}
	}
	return nil
}

// mostInStoreKg is more of one dish than a household keeps.
const mostInStoreKg = 1000

func checkInStore(g *Garden) error {
	if err := fewEnough("dishes in store", len(g.InStore)); err != nil {
		return err
	}
	seen := map[string]bool{}
	for i, s := range g.InStore {
		if err := named(fmt.Sprintf("in store %d: the dish", i+1), s.Dish); err != nil {
			return err
		}
		if seen[s.Dish] {
			return fmt.Errorf("in store: %q stands twice; add the two up", s.Dish)
		}
		seen[s.Dish] = true
		if !(s.Kg > 0 && s.Kg <= mostInStoreKg) {
			return fmt.Errorf("in store, %q: %g kg; give a weight above 0 and up to %d kg, or leave it out", s.Dish, s.Kg, mostInStoreKg)
		}
	}
	return nil
}

func checkLocks(g *Garden) error {
	if err := fewEnough("locks", len(g.Locks)); err != nil {
		return err
	}
	for i, l := range g.Locks {
		if err := named(fmt.Sprintf("lock %d: the dish", i+1), l.Dish); err != nil {
			return err
		}
		if l.Place == "" {
			continue
		}
		if _, ok := g.Place(l.Place); !ok {
			return fmt.Errorf("lock on %q: there is no place %q; name one of the garden's places, or leave it out to mean everywhere", l.Dish, l.Place)
		}
	}
	return nil
}

func checkKeeps(g *Garden) error {
	if err := fewEnough("kept plantings", len(g.Keeps)); err != nil {
		return err
	}
	for i, k := range g.Keeps {
		subject := fmt.Sprintf("%s kept in %q", k.Crop, k.Place)
		if err := firstOf(
			named(fmt.Sprintf("kept planting %d: the crop", i+1), k.Crop),
			checkStretch(g, subject, k.Place, k.FromCM, k.ToCM),
		); err != nil {
			return err
		}
	}
	return nil
}
