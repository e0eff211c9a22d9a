package app

import (
	"errors"
	"fmt"
	"strings"

	"haulm/internal/diary"
	"haulm/internal/season"
	"haulm/internal/unit"
)

// adoptedWords says what became of the plantings of another file's plan that
// lines just read in speak of.
func (d *Desk) adoptedWords(rows []diary.Row) ([]string, error) {
	spoken := map[string]*diary.Row{}
	for i := range rows {
		if key := rows[i].Planting; key != "" && season.NotedBy(key) == 0 && spoken[key] == nil {
			spoken[key] = &rows[i]
		}
	}
	if len(spoken) == 0 {
		return nil, nil
	}
	found, err := d.foundForeign()
	if err != nil {
		return nil, err
	}
	var counted, alone, nothing []string
	for i := range found {
		row := spoken[found[i].key]
		if row == nil {
			continue
		}
		name := d.cropName(row.Crop) + ", " + row.Place
		switch f := &found[i]; {
		case f.counts != "":
			counted = append(counted, name)
		case f.itself:
			alone = append(alone, name)
		default:
			nothing = append(nothing, name)
		}
	}
	alike := fmt.Sprintf("that crop, raised alike, in that place, begun within %d days of the same day", diary.ReachDays)
	why := "the plan has none of " + alike
	if _, err := d.Planned(); errors.Is(err, ErrNoPlan) {
		why = "there is no plan yet (one made later counts what it has of " + alike + ")"
	}
	return tellAdopted(counted, alone, nothing, why), nil
}

// foundForeign is what adopt makes of the diary as it is kept.
func (d *Desk) foundForeign() ([]foreign, error) {
	in, err := d.seasonInput(TodayQuestion{})
	if err != nil {
		return nil, err
	}
	if in.Plantings, err = d.seasonPlantings(in.Garden); err != nil {
		return nil, err
	}
	if in.Diary, err = d.diaryEntries(); err != nil {
		return nil, err
	}
	return d.adopt(&in)
}

// tellAdopted puts the three sorts into sentences.
func tellAdopted(counted, alone, nothing []string, why string) []string {
	var out []string
	if len(counted) > 0 {
		out = append(out, plantingsWords(counted, "counts", "count")+" for this garden's plan: "+someOf(counted))
	}
	if len(alone) > 0 {
		out = append(out, plantingsWords(alone, "stands by itself", "stand by themselves")+", since "+why+": "+someOf(alone)+". How much ground is taken is not known")
	}
	if len(nothing) > 0 {
		out = append(out, plantingsWords(nothing, "is kept in the diary and counts", "are kept in the diary and count")+
			" for nothing else, since no line begins it, or it began over a year ago, or this garden has no such crop or place: "+someOf(nothing))
	}
	return out
}

func plantingsWords(list []string, one, many string) string {
	verb := many
	if len(list) == 1 {
		verb = one
	}
	return unit.Counted(len(list), "planting", "plantings") + " of the file " + verb
}

// someOf names the first few of a long list.
func someOf(names []string) string {
	const few = 4
	words := strings.Join(names[:min(few, len(names))], "; ")
	if more := len(names) - few; more > 0 {
		words += fmt.Sprintf("; and %d more", more)
	}
	return words
}
