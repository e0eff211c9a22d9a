package soil

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
	"sync"
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

// Textures are the classes, from sand to clay. They are part of the program,
// so a fault in them is the programmer's.
var Textures = sync.OnceValue(func() []Texture {
	rows, err := csv.NewReader(strings.NewReader(texturesCSV)).ReadAll()
	if err != nil {
		panic("soil: textures: " + err.Error())
	}
	var out []Texture
	for i, row := range rows[1:] {
		var v [11]float64
		for k := range v {
			if v[k], err = strconv.ParseFloat(row[1+k], 64); err != nil {
				panic(fmt.Sprintf("soil: textures row %d: %v", i+1, err))
			}
		}
		t := Texture{
			Name: row[0], FieldCapacity: Span{v[0], v[1], v[2]}, Available: Span{v[5], v[6], v[7]}, ReadyMM: Span{v[8], v[9], v[10]},
			Feels: row[12], Source: row[13], Grade: row[14],
		}
		t.WiltingPoint = Span{v[3], t.FieldCapacity.Value - t.Available.Value, v[4]}
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
