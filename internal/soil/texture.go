package soil

import (
	_ "embed"
	"sync"

	"haulm/internal/graded"
)

//go:embed data/textures.csv
var texturesCSV string

// UsualTexture stands in where nobody has said what the ground is.
const UsualTexture = "loam"

// Span is a figure with the ends of its printed range.
type Span struct{ Low, Value, High float64 }

// Texture is a class of soil and how it holds water, as shares of its volume.
// FAO-56 table 19 prints ranges; the middle of what plants can draw is taken,
// and the wilting point lies that far below the middle of field capacity.
type Texture struct {
	Name          string
	FieldCapacity Span // drained for a day or two after soaking
	WiltingPoint  Span
	Available     Span // field capacity less wilting point
	ReadyMM       Span // REW, dried off the surface before that slows
	Feels         string
	Source, Grade string
}

// Surface is the top layer of such ground that the sun dries, layerM deep.
func (t Texture) Surface(layerM float64) Surface {
	return Surface{EvaporableMM: EvaporableMM(t.FieldCapacity.Value, t.WiltingPoint.Value, layerM), ReadyMM: t.ReadyMM.Value}
}

// TotalMM is TAW over a depth of roots. FAO-56 eq 82.
func (t Texture) TotalMM(rootM float64) float64 {
	return TotalWaterMM(t.FieldCapacity.Value, t.WiltingPoint.Value, rootM)
}

// Textures are the classes, from sand to clay.
var Textures = sync.OnceValue(func() []Texture {
	var out []Texture
	for _, row := range graded.MustRows("soil: textures", texturesCSV) {
		t := Texture{Name: row.Cells[0], Feels: row.Cells[12], Source: row.Cells[13], Grade: row.Cells[14]}
		capacity, wilting, available, ready := &t.FieldCapacity, &t.WiltingPoint, &t.Available, &t.ReadyMM
		row.Numbers(1, &capacity.Low, &capacity.Value, &capacity.High, &wilting.Low, &wilting.High,
			&available.Low, &available.Value, &available.High, &ready.Low, &ready.Value, &ready.High)
		wilting.Value = capacity.Value - available.Value
		out = append(out, t)
	}
	return out
})

// TextureNames lists the classes, from sand to clay.
func TextureNames() []string {
	var names []string
	for _, t := range Textures() {
		names = append(names, t.Name)
	}
	return names
}

// TextureOf is the class of a name, the usual one for ""; ok is false for a
// name that is no class.
func TextureOf(name string) (t Texture, ok bool) {
	if name == "" {
		name = UsualTexture
	}
	for _, t := range Textures() {
		if t.Name == name {
			return t, true
		}
	}
	return Texture{}, false
}
