package plan

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
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
	// Duals prove Bound (see the function Bound). They are large: only WriteProof
	// writes them.
	Duals *Duals `json:"-"`
}

// proofText is a result's JSON with its duals.
type proofText struct {
	*Result
	Duals *Duals `json:"duals,omitempty"`
}

// Gap is how far a plan may be from the best, as a share of a bound: 0 where the
// bound is nothing.
func Gap(value, bound float64) float64 {
	if bound > 1e-9 {
		return max(0, (bound-value)/bound)
	}
	return 0
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
	res := proofText{Result: new(Result)}
	if err := json.Unmarshal(text, &res); err != nil {
		return nil, fmt.Errorf("result: %w", err)
	}
	res.Result.Duals = res.Duals
	return res.Result, nil
}

// Write writes the result as one line of JSON.
func (r *Result) Write(w io.Writer) error {
	if err := json.NewEncoder(w).Encode(r); err != nil {
		return fmt.Errorf("result: %w", err)
	}
	return nil
}

// WriteProof writes the result with its duals, so that Check can prove the bound
// again. Prices are cut to dualDigits digits; any prices prove some bound, and
// these prove the same but for auditSlack.
func (r *Result) WriteProof(w io.Writer) error {
	if err := json.NewEncoder(w).Encode(proofText{r, r.Duals.short()}); err != nil {
		return fmt.Errorf("result: %w", err)
	}
	return nil
}

// dualDigits keep the file small and the sum over all prices good to auditSlack.
const dualDigits = 10

// short copies prices with few digits; the years' weights keep all, since they
// must add up to 1.
func (d *Duals) short() *Duals {
	if d == nil {
		return nil
	}
	c := &Duals{Years: d.Years, Wage: shortList(d.Wage), Tray: shortList(d.Tray), Whole: d.Whole}
	for _, list := range d.Produce {
		c.Produce = append(c.Produce, shortList(list))
	}
	for _, list := range d.Family {
		c.Family = append(c.Family, shortList(list))
	}
	return c
}

func shortList(list []float64) []float64 {
	short := make([]float64, len(list))
	for i, x := range list {
		if x < 1e-12 {
			continue // nothing, and it would take the most room of all
		}
		// Downwards, so that a price at its limit stays within it.
		unit := math.Pow(10, math.Floor(math.Log10(x))+1-dualDigits)
		short[i], _ = strconv.ParseFloat(strconv.FormatFloat(math.Floor(x/unit)*unit, 'g', dualDigits, 64), 64)
		if short[i] > x {
			short[i] = x
		}
	}
	return short
}
