package trial

import (
	_ "embed"
	"fmt"
	"io"
	"math"
	"strings"

	"haulm/internal/grow"
)

// The parts of the report that are written by hand: how it is done, what else
// of the project is held against the outside, and where the model falls short.
var (
	//go:embed data/method.md
	methodText string
	//go:embed data/outside.md
	outsideText string
	//go:embed data/short.md
	shortText string
)

// Report is all that is shown of the trials.
type Report struct {
	Outcomes []Outcome // each judged by a fit that has not seen it
	Groups   []Group
	Refitted []float64 // the groups' factors fitted to all rows, in their order
	Seedbed  []Thermometer
	Handbook []Framed // days to maturity at the temperature each crop likes best
	Maturity []Framed // days to maturity, North Dakota
	Stages   []Framed // FAO-56 Table 11
}

// Write writes the report as Markdown. The same trials give the same bytes.
func (r Report) Write(w io.Writer) error {
	var b strings.Builder
	b.WriteString("# Validation\n\nMade by `haulm validate`; not to be edited by hand. Words by hand stand in `internal/trial/data`.\n\n")
	b.WriteString(methodText)
	all, byCrop := Scored(r.Outcomes)
	writeGoals(&b, all, byCrop)
	writeCrops(&b, all, byCrop)
	writeWidths(&b, Widths(r.Outcomes))
	r.writeFits(&b)
	r.writeRows(&b)
	b.WriteString("\n" + shortText)
	writeThermometers(&b, r.Seedbed)
	writeFrames(&b, r.Handbook, r.Maturity, r.Stages)
	b.WriteString("\n" + estimateText)
	b.WriteString("\n" + outsideText)
	_, err := io.WriteString(w, b.String())
	return err
}

// The goals that were set before the trials were looked at.
const (
	goalHarvestDays   = 7.0
	goalEmergenceDays = 3.0
	goalInsideLow     = 0.75
	goalInsideHigh    = 0.85
	goalBiasDays      = 10.0
)

func writeGoals(b *strings.Builder, all Scores, byCrop []Scores) {
	var biased []string
	for _, s := range byCrop {
		for _, score := range []Score{s.Emergence, s.Harvest} {
			if score.N > 0 && math.Abs(score.Bias) > goalBiasDays {
				biased = append(biased, fmt.Sprintf("%s (%s d)", s.Crop, signedDays(score.Bias)))
			}
		}
	}
	b.WriteString("\n## What was aimed at, and what came of it\n\n| | goal | reached | |\n|---|---|---|---|\n")
	fmt.Fprintf(b, "| emergence, median absolute error | ≤ %g d | %s d (%d dates) | %s |\n", goalEmergenceDays, days(all.Emergence.MedianAbs), all.Emergence.N, met(all.Emergence.MedianAbs <= goalEmergenceDays))
	fmt.Fprintf(b, "| first harvest, median absolute error | ≤ %g d | %s d (%d dates) | %s |\n", goalHarvestDays, days(all.Harvest.MedianAbs), all.Harvest.N, met(all.Harvest.MedianAbs <= goalHarvestDays))
	share := all.All.InsideShare()
	fmt.Fprintf(b, "| dates inside the 80 %% interval | 75–85 %% | %.0f %% (%d of %d) | %s |\n", 100*share, all.All.Inside, all.All.N, met(share >= goalInsideLow && share <= goalInsideHigh))
	fmt.Fprintf(b, "| crops biased by more than %g d | none | %s | %s |\n", goalBiasDays, listed(biased), met(len(biased) == 0))
	fmt.Fprintf(b, "| harvests that bound from above, losses, ranges | all kept | %d of %d | %s |\n", all.Kept, all.Bounds, met(all.Kept == all.Bounds))
	fmt.Fprintf(b, "| crops that were harvested and that we lose in most years | none | %s | %s |\n", listed(all.Doomed), met(len(all.Doomed) == 0))
	fmt.Fprintf(b, "\nFirst harvests within a week or 15 %% of the days, whichever is more: %d of %d.\n", all.WithinRule, all.Harvest.N)
}

// listed is a list in words.
func listed(items []string) string {
	if len(items) == 0 {
		return "none"
	}
	return strings.ReplaceAll(strings.Join(items, ", "), "ph-", "row ")
}

func met(yes bool) string {
	if yes {
		return "met"
	}
	return "**not met**"
}

func writeCrops(b *strings.Builder, all Scores, byCrop []Scores) {
	b.WriteString("\n## Crop by crop\n\nBias is the median of simulated minus published days: + is late. MAE is the median absolute error. Inside counts dates within the 80 % interval.\n\n")
	b.WriteString("| crop | emergence: n | bias | MAE | inside | first harvest: n | bias | MAE | inside | bounds kept |\n|---|---:|---:|---:|---:|---:|---:|---:|---:|---:|\n")
	all.Crop = "**all**"
	for _, s := range append(byCrop, all) {
		fmt.Fprintf(b, "| %s | %s | %s | %s |\n", s.Crop, scoreCells(s.Emergence), scoreCells(s.Harvest), share(s.Kept, s.Bounds))
	}
}

func scoreCells(s Score) string {
	if s.N == 0 {
		return "– | | | "
	}
	return fmt.Sprintf("%d | %s | %s | %d", s.N, signedDays(s.Bias), days(s.MedianAbs), s.Inside)
}

func share(part, whole int) string {
	if whole == 0 {
		return "–"
	}
	return fmt.Sprintf("%d of %d", part, whole)
}

func (r Report) writeFits(b *strings.Builder) {
	b.WriteString("\n## What the trials have moved\n\nOne factor on thermal time a group, each held to 1 by a log-normal prior. The catalogue holds the factors; fitting them anew to all rows gives the third column.\n\n| group | in the catalogue | fitted anew | prior, ± | note |\n|---|---:|---:|---:|---|\n")
	for i, g := range r.Groups {
		fmt.Fprintf(b, "| %s%s | %.2f | %.2f | %.0f %% | %s |\n", g.Name, kind(g.Class), g.Factor, r.Refitted[i], 100*g.PriorLogSD, g.Note)
	}
}

func kind(class string) string {
	if class == "" {
		return ""
	}
	return ", " + class + " kinds"
}

func (r Report) writeRows(b *strings.Builder) {
	b.WriteString("\n## Every row\n\nDays from sowing, or from setting out where that is the row's start: published, then the model's middle and 80 % interval. ≤ marks a harvest that only bounds readiness from above.\n\n")
	b.WriteString("| row | crop and kind, as published | where | read as | weather | emergence | model | harvest | model | |\n|---|---|---|---|---|---:|---:|---:|---:|---|\n")
	for _, o := range r.Outcomes {
		emergence, up := "", ""
		if _, ok := o.EmergenceError(); ok {
			emergence, up = fmt.Sprint(o.observed(o.Row.Emerged)), daysCell(o.Up)
		}
		fmt.Fprintf(b, "| %s | %s, %s | %s | %s, %s, %s%s | %s: %s | %s | %s | %s | %s | %s |\n",
			strings.TrimPrefix(o.Row.ID, "ph-"), o.Row.Crop, o.Row.Cultivar, o.Row.Place,
			o.Subject.Crop.Name, o.Subject.Class, o.Subject.Route.Name, under(o), o.Weather.Kind, o.Weather.Words,
			emergence, up, o.harvestCell(), o.readyCell(), o.verdict())
	}
	b.WriteString("\nReadings that are not plain:\n\n")
	said := map[string]bool{}
	for _, o := range r.Outcomes {
		if why := o.Subject.Why; why != "" && !said[o.Row.Crop+why] {
			said[o.Row.Crop+why] = true
			fmt.Fprintf(b, "- %s, %s: %s.\n", o.Row.Crop, o.Row.Cultivar, why)
		}
	}
}

func under(o Outcome) string {
	if o.Subject.Cover.Key == "" {
		return ""
	}
	return ", " + o.Subject.Cover.Name
}

func (o Outcome) harvestCell() string {
	switch o.Row.Bound() {
	case Dated:
		return fmt.Sprint(o.observed(o.Row.Harvest()))
	case FromOver:
		return fmt.Sprintf("≤ %d", o.observed(o.Row.Harvest()))
	case Ranged:
		return fmt.Sprintf("%d–%d", o.Row.HarvestDays[0], o.Row.HarvestDays[1])
	case Killed:
		return "lost"
	}
	return ""
}

func (o Outcome) readyCell() string {
	if o.Row.Bound() == Unknown {
		return ""
	}
	cell := daysCell(o.Ready)
	if o.Lost > 0 {
		cell += fmt.Sprintf(", lost %.0f %%", 100*o.Lost)
	}
	return cell
}

func daysCell(d Days) string {
	return fmt.Sprintf("%s (%s–%s)", dayCell(d.Mid), dayCell(d.Low), dayCell(d.High))
}

func dayCell(day int) string {
	if day == grow.Never {
		return "never"
	}
	return fmt.Sprint(day)
}

// verdict is the row's error in words.
func (o Outcome) verdict() string {
	var parts []string
	if e, ok := o.EmergenceError(); ok {
		parts = append(parts, "up "+verdictOf(e))
	}
	if e, ok := o.HarvestError(); ok {
		parts = append(parts, "ready "+verdictOf(e))
	}
	if kept, ok := o.Kept(); ok {
		parts = append(parts, map[bool]string{true: "kept", false: "**not kept**"}[kept])
	}
	return strings.Join(parts, "; ")
}

func verdictOf(e Error) string {
	if e.Inside {
		return signedDays(e.Days)
	}
	return "**" + signedDays(e.Days) + "**"
}

func writeFrames(b *strings.Builder, handbook, maturity, stages []Framed) {
	b.WriteString("\n## Days to maturity, Knott's Handbook\n\nThe handbook's ranges (from memory), early kinds to late, against ours in even weather at the monthly mean in which it says that each crop does best, under clear skies at 40° from the first of May. Kale's and spinach's figures were drawn from it.\n")
	writeFramed(b, handbook)
	b.WriteString("\n## Days to maturity, North Dakota\n\nNDSU H-912's ranges, early kinds to late, against ours in the middling of 30 years made from the normals of Fargo; sown or set out on 5 May, warm-soil crops on 25 May. Nothing was fitted to the table but pumpkins and winter squash.\n")
	writeFramed(b, maturity)
	b.WriteString("\n## FAO-56 Table 11, stage lengths\n\nThe table's days run from planting to the last harvest. What is picked over weeks should come ready in its mid or late season, what is taken once in its late season; ours is the range from early kinds' first picking to late kinds'. Each place stands for the table's region.\n")
	writeFramed(b, stages)
}

func writeFramed(b *strings.Builder, framed []Framed) {
	meet := 0
	for _, f := range framed {
		if f.Meet() {
			meet++
		}
	}
	fmt.Fprintf(b, "\nThe ranges have days in common for %d of %d.\n\n| | published | ours | |\n|---|---:|---:|---|\n", meet, len(framed))
	for _, f := range framed {
		word := ""
		switch {
		case f.Meet():
		case f.OurLow > f.High:
			word = "we are later"
		default:
			word = "we are sooner"
		}
		fmt.Fprintf(b, "| %s | %d–%d | %s–%s | %s |\n", f.Name, f.Low, f.High, dayCell(f.OurLow), dayCell(f.OurHigh), word)
	}
}

func days(x float64) string {
	if math.IsInf(x, 0) {
		return "never"
	}
	return fmt.Sprintf("%.1f", x)
}

func signedDays(x float64) string {
	if math.IsInf(x, 0) {
		return "never ready"
	}
	if x == 0 {
		return "0"
	}
	return strings.ReplaceAll(strings.TrimSuffix(fmt.Sprintf("%+.1f", x), ".0"), "-", "−")
}
