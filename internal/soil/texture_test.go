package soil

import "testing"

// Every figure lies within its printed range, and the wilting point that
// follows from the others within its own (FAO-56 table 19).
func TestTextures_FAO56_Table19(t *testing.T) {
	within := func(name, what string, s Span) {
		t.Helper()
		if s.Low <= 0 || s.Value < s.Low-1e-12 || s.Value > s.High+1e-12 {
			t.Errorf("%s: %s %g is not between %g and %g", name, what, s.Value, s.Low, s.High)
		}
	}
	// TEW over 0.10 m as printed beside each class.
	evaporable := map[string][2]float64{
		"sand": {6, 12}, "loamy sand": {9, 14}, "sandy loam": {15, 20}, "loam": {16, 22}, "silt loam": {18, 25}, "silt": {22, 26},
		"silty clay loam": {22, 27}, "silty clay": {22, 28}, "clay": {22, 29},
	}
	for _, x := range Textures() {
		within(x.Name, "field capacity", x.FieldCapacity)
		within(x.Name, "wilting point", x.WiltingPoint)
		within(x.Name, "available water", x.Available)
		within(x.Name, "ready evaporation", x.ReadyMM)
		printed, ok := evaporable[x.Name]
		if got := x.Surface(0.10).EvaporableMM; !ok || got < printed[0] || got > printed[1] {
			t.Errorf("%s: %.1f mm can be dried off, printed %v", x.Name, got, printed)
		}
		if x.Feels == "" || x.Source == "" || x.Grade == "" {
			t.Errorf("%s is without words, source or grade", x.Name)
		}
	}
	if len(Textures()) != len(evaporable) {
		t.Errorf("%d classes, printed %d", len(Textures()), len(evaporable))
	}
	if usual, ok := TextureOf(""); !ok || usual.Name != UsualTexture {
		t.Errorf("nothing said gives %q", usual.Name)
	}
	if _, ok := TextureOf("gravel"); ok {
		t.Error("gravel is no class of the table")
	}
}
