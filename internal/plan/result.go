package plan

import (
	"encoding/json"
	"fmt"
	"io"
)

// Result is what Solve hands back.
type Result struct {
	Value        float64       `json:"value"`
	Bound        float64       `json:"bound"` // no plan is worth more
	Gap          float64       `json:"gap"`   // (Bound-Value)/Bound; 0 where Bound is nothing
	Plantings    []Planting    `json:"plantings"`
	Seconds      float64       `json:"seconds"`
	Seed         int64         `json:"seed"`
	Improvements []Improvement `json:"improvements"`
	// Duals prove Bound (see the function Bound). They are large and not part of
	// the result's JSON.
	Duals *Duals `json:"-"`
}

// Improvement is one better plan or bound, as found: [seconds, value, bound] in JSON.
type Improvement struct {
	Seconds, Value, Bound float64
}

// MarshalJSON writes [seconds, value, bound].
func (i Improvement) MarshalJSON() ([]byte, error) {
	return json.Marshal([]float64{i.Seconds, i.Value, i.Bound})
}

// UnmarshalJSON reads what MarshalJSON writes; further numbers are ignored.
func (i *Improvement) UnmarshalJSON(text []byte) error {
	var flat []float64
	if err := json.Unmarshal(text, &flat); err != nil {
		return err
	}
	if len(flat) < 3 {
		return fmt.Errorf("an improvement is [seconds, value, bound], got %d numbers", len(flat))
	}
	*i = Improvement{flat[0], flat[1], flat[2]}
	return nil
}

// Plan is the plan that the result describes.
func (r *Result) Plan() Plan { return Plan{r.Plantings} }

// ReadResult reads a result as JSON, plain or gzip. Whether its plan fits a
// problem is for Validate to say.
func ReadResult(r io.Reader) (*Result, error) {
	text, err := readText(r, maxText)
	if err != nil {
		return nil, fmt.Errorf("result: %w", err)
	}
	res := new(Result)
	if err := json.Unmarshal(text, res); err != nil {
		return nil, fmt.Errorf("result: %w", err)
	}
	return res, nil
}

// Write writes the result as one line of JSON.
func (r *Result) Write(w io.Writer) error {
	if err := json.NewEncoder(w).Encode(r); err != nil {
		return fmt.Errorf("result: %w", err)
	}
	return nil
}
