package crop

// Cover is what stands over a planting. The zero Cover is the open sky except
// for LightShare and RainShare, so ask the Catalogue for "".
type Cover struct {
	Key        string  // fleece, double_fleece, cloche, frame, tunnel, greenhouse; "" = open
	Name       string  // as a gardener says it
	MinC       float64 // added to the night minimum of the air, worst usual case
	MeanC      float64 // added to the daily mean
	MaxC       float64 // added to the day's maximum, aired as a gardener airs it
	LightShare float64 // of the light outside, 0..1
	RainShare  float64 // of the rain outside that reaches the ground, 0..1
	Facts      []Fact
}
