package plan

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"
)

// TestWriteLP writes an instance for a general solver, in CPLEX's LP format, when
// HAULM_LP names the file (HAULM_INSTANCE the instance, HAULM_WHOLE=1 for whole
// strips instead of any areas). scripts/bench_solver.sh uses it; without a name
// there is nothing to do.
func TestWriteLP(t *testing.T) {
	path := os.Getenv("HAULM_LP")
	if path == "" {
		return
	}
	file, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	out := bufio.NewWriter(file)
	writeLP(out, instance(t, os.Getenv("HAULM_INSTANCE")), os.Getenv("HAULM_WHOLE") != "")
	if err := out.Flush(); err != nil {
		t.Fatal(err)
	}
	if err := file.Close(); err != nil {
		t.Fatal(err)
	}
}

// TestWriteLP_Names: every part of the format is there.
func TestWriteLP_Names(t *testing.T) {
	var text strings.Builder
	writeLP(&text, rules(), true)
	for _, part := range []string{"Maximize", "Subject To", "Generals", "g0_0:", "f0_1:", "End"} {
		if !strings.Contains(text.String(), part) {
			t.Errorf("no %q in:\n%s", part, text.String())
		}
	}
}

// lpWriter writes sums a few terms to a line, as the format's line limit wants.
type lpWriter struct {
	io.Writer
	terms int
}

func (w *lpWriter) add(x float64, name string, args ...any) {
	if x == 0 {
		return
	}
	if w.terms++; w.terms%8 == 0 {
		fmt.Fprintln(w)
	}
	fmt.Fprintf(w, " %+.9g "+name, append([]any{x}, args...)...)
}

// writeLP writes the relaxation over areas: x(kind of strip, candidate), grams
// eaten e(crop, tier, week, year), stock k, a year's worth v, overtime o.
func writeLP(out io.Writer, p *Problem, whole bool) {
	w := &lpWriter{Writer: out}
	b := newBounder(p, newTables(p))
	fmt.Fprint(w, "Maximize\n worth:")
	for s := range p.Years {
		w.add((1-p.Lambda)/float64(p.Years), "v%d", s)
		if p.Lambda > 0 {
			w.add(-p.Lambda/(p.Alpha*float64(p.Years)), "z%d", s)
		}
	}
	w.add(p.Lambda, "eta")
	for u := range b.soils {
		for _, st := range b.soils[u].steps {
			c := &p.Cands[st.cand]
			minutes := 0.0
			for _, tenths := range c.Labour {
				minutes += float64(tenths) / 10
			}
			w.add(-c.Cost-minutes*p.LabourCost, "x%d_%d", u, st.cand)
		}
	}
	for t := range p.Weeks {
		w.add(-p.OvertimeCost, "o%d", t)
	}
	fmt.Fprint(w, "\nSubject To\n")
	writeLPYears(w, p)
	for c := range p.Crops {
		writeLPStock(w, p, b, c)
	}
	writeLPGround(w, p, b)
	fmt.Fprint(w, "Bounds\n")
	for s := range p.Years {
		fmt.Fprintf(w, " v%d free\n", s)
	}
	fmt.Fprint(w, " eta free\n")
	for c := range p.Crops {
		for k, kg := range p.Crops[c].TierKg {
			for t := range p.Weeks {
				for s := range p.Years {
					fmt.Fprintf(w, " e%d_%d_%d_%d <= %.9g\n", c, k, t, s, kg*1000)
				}
			}
		}
	}
	if whole {
		fmt.Fprint(w, "Generals\n")
		for u := range b.soils {
			for _, st := range b.soils[u].steps {
				fmt.Fprintf(w, " x%d_%d\n", u, st.cand)
			}
		}
	}
	fmt.Fprint(w, "End\n")
}

func writeLPYears(w *lpWriter, p *Problem) {
	for s := range p.Years {
		fmt.Fprintf(w, " y%d: v%d", s, s)
		for c := range p.Crops {
			for k := range p.Crops[c].TierKg {
				for t := range p.Weeks {
					v := p.Crops[c].TierVal[k] / 1000
					if k == 0 {
						v *= p.Bonus[t]
					}
					w.add(-v, "e%d_%d_%d_%d", c, k, t, s)
				}
			}
		}
		fmt.Fprint(w, " <= 0\n")
		if p.Lambda > 0 {
			fmt.Fprintf(w, " t%d: z%d + v%d - eta >= 0\n", s, s, s)
		}
	}
}

func writeLPStock(w *lpWriter, p *Problem, b *bounder, c int) {
	standing := newHarvest(p, nil)
	for s := range p.Years {
		grams, _ := standing.year(c, s)
		for t := range p.Weeks {
			fmt.Fprintf(w, " k%d_%d_%d: k%d_%d_%d", c, t, s, c, t, s)
			if t > 0 {
				w.add(-p.Crops[c].Keep, "k%d_%d_%d", c, t-1, s)
			}
			for k := range p.Crops[c].TierKg {
				w.add(1, "e%d_%d_%d_%d", c, k, t, s)
			}
			for u := range b.soils {
				for _, st := range b.soils[u].steps {
					y := &p.Cands[st.cand].Yield[s]
					if at := t - y.First; p.Cands[st.cand].Crop == c && at >= 0 && at < len(y.Grams) {
						w.add(-float64(y.Grams[at]), "x%d_%d", u, st.cand)
					}
				}
			}
			fmt.Fprintf(w, " <= %d\n", grams[t])
		}
	}
}

func writeLPGround(w *lpWriter, p *Problem, b *bounder) {
	for u := range b.soils {
		steps := b.soils[u].steps
		row := func(name string, k int, in func(step) bool) {
			fmt.Fprintf(w, " %s%d_%d: 0 eta", name, u, k)
			for _, st := range steps {
				if in(st) {
					w.add(1, "x%d_%d", u, st.cand)
				}
			}
			fmt.Fprintf(w, " <= %d\n", b.soils[u].strips)
		}
		for t := range p.Weeks {
			row("g", t, func(st step) bool { return st.start <= t && t < st.end })
		}
		for f := range families {
			row("f", f, func(st step) bool { return st.family == 1<<f })
		}
	}
	for t := range p.Weeks {
		fmt.Fprintf(w, " w%d: - o%d", t, t)
		for u := range b.soils {
			for _, st := range b.soils[u].steps {
				c := &p.Cands[st.cand]
				if k := t - c.LabourAt; k >= 0 && k < len(c.Labour) {
					w.add(float64(c.Labour[k])/10, "x%d_%d", u, st.cand)
				}
			}
		}
		fmt.Fprintf(w, " <= %.9g\n i%d: 0 eta", p.LabourCap, t)
		for u := range b.soils {
			for _, st := range b.soils[u].steps {
				if c := &p.Cands[st.cand]; c.Tray.From <= t && t < c.Tray.To {
					w.add(float64(c.Tray.Hundredths)/100, "x%d_%d", u, st.cand)
				}
			}
		}
		fmt.Fprintf(w, " <= %.9g\n", p.trayRoom(t))
	}
}
