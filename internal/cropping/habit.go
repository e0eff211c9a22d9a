package cropping

import (
	"haulm/internal/crop"
	"haulm/internal/grow"
)

// Habit is how a crop of a class does in this garden against the book: its
// pace, and the factor on its weight. Nil is by the book.
type Habit func(cr *crop.Crop, class string) (pace grow.Pace, yield float64)

// of is Habit where there may be none.
func (h Habit) of(cr *crop.Crop, class string) (pace grow.Pace, yield float64) {
	if h == nil {
		return grow.ByTheBook, 1
	}
	return h(cr, class)
}

// paced is a track at the garden's own pace.
func (h Habit) paced(track *grow.Track, cr *crop.Crop, class string) *grow.Track {
	if pace, _ := h.of(cr, class); pace != grow.ByTheBook {
		return track.Paced(pace)
	}
	return track
}

// weigh brings a course to the garden's own weights.
func (h Habit) weigh(c *grow.Course, cr *crop.Crop, class string) {
	if _, yield := h.of(cr, class); yield != 1 {
		*c = c.Scaled(yield)
	}
}

// HandShare is the part of the catalogue's typical yield that a gardener of
// this experience is counted on for.
func HandShare(experience string) (float64, error) {
	rules, err := loadRules()
	if err != nil {
		return 0, err
	}
	return rules.handShare(experience), nil
}
