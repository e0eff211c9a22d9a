package plan

import (
	"encoding/json"
	"fmt"
)

// UnmarshalJSON reads [first week, grams, grams, ...]; [] and null are a failed year.
func (y *Yield) UnmarshalJSON(text []byte) error {
	var flat []int32
	if err := json.Unmarshal(text, &flat); err != nil {
		return fmt.Errorf("a yield is whole grams, [first week, grams, ...]: %w", err)
	}
	*y = Yield{}
	if len(flat) == 1 {
		return fmt.Errorf("a yield has a first week (%d) but no grams; write [] for a failed year", flat[0])
	}
	if len(flat) > 1 {
		y.First, y.Grams = int(flat[0]), flat[1:len(flat):len(flat)]
	}
	return nil
}

// MarshalJSON writes the form that UnmarshalJSON reads.
func (y Yield) MarshalJSON() ([]byte, error) {
	if len(y.Grams) == 0 {
		return []byte("[]"), nil
	}
	flat := make([]int32, 0, len(y.Grams)+1)
	flat = append(flat, int32(y.First))
	return json.Marshal(append(flat, y.Grams...))
}

// UnmarshalJSON reads [from, to, hundredths]; absent, null and [] are no space.
func (t *Tray) UnmarshalJSON(text []byte) error {
	var flat []int
	if err := json.Unmarshal(text, &flat); err != nil {
		return fmt.Errorf("tray is [from week, to week, hundredths]: %w", err)
	}
	*t = Tray{}
	switch len(flat) {
	case 0:
		return nil
	case 3:
		*t = Tray{flat[0], flat[1], flat[2]}
		return nil
	}
	return fmt.Errorf("tray has %d numbers, want three: from week, to week, hundredths", len(flat))
}

// MarshalJSON writes the form that UnmarshalJSON reads.
func (t Tray) MarshalJSON() ([]byte, error) {
	return json.Marshal([3]int{t.From, t.To, t.Hundredths})
}
