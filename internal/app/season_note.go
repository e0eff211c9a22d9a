package app

import (
	"context"
	"errors"

	"haulm/internal/diary"
	"haulm/internal/store"
	"haulm/internal/unit"
)

// errNotKept is what a garden that is only shown says to a diary entry.
var errNotKept = errors.New("this garden is only shown, not kept: start haulm serve with a garden of your own to write its diary")

// Noted is a line written in the diary.
type Noted struct {
	Entry  diary.Entry `json:"entry"`
	Says   string      `json:"says"`
	Doubts []string    `json:"doubts,omitempty"`
}

// Note reads a line as a person writes it and keeps it in the diary.
func (d *Desk) Note(line string) (*Noted, error) {
	c, err := d.DiaryContext()
	if err != nil {
		return nil, err
	}
	entry, doubts, err := diary.ParseLine(line, c)
	if err != nil {
		return nil, err
	}
	return d.keepEntry(entry, doubts)
}

// NoteEntry checks and keeps an entry made by taps. Its Planting links it to
// one; an entry without one is taken as it is.
func (d *Desk) NoteEntry(entry diary.Entry) (*Noted, error) {
	c, err := d.DiaryContext()
	if err != nil {
		return nil, err
	}
	doubts, err := diary.Check(entry, c)
	if err != nil {
		return nil, err
	}
	return d.keepEntry(entry, doubts)
}

func (d *Desk) keepEntry(entry diary.Entry, doubts []string) (*Noted, error) {
	if d.file == nil {
		return nil, errNotKept
	}
	id, err := d.file.AddDiary(context.Background(), entry, d.now())
	if err != nil {
		return nil, err
	}
	entry.ID = id
	return &Noted{Entry: entry, Says: entry.Say(d.cropName(entry.Crop)), Doubts: doubts}, nil
}

func (d *Desk) cropName(key string) string {
	if cr := d.Catalogue.Crop(key); cr != nil {
		return cr.Name
	}
	return key
}

// DiaryContext is what a line is read against today.
func (d *Desk) DiaryContext() (diary.Context, error) {
	in, err := d.seasonInput(TodayQuestion{})
	if err != nil {
		return diary.Context{}, err
	}
	return diary.Context{
		Today: in.Today, Places: in.Garden.Places, Catalogue: d.Catalogue, Standing: standingIn(in), Imperial: in.Garden.Household.Imperial,
	}, nil
}

// Diary is the whole diary, in order of day.
func (d *Desk) Diary() ([]store.DiaryLine, error) {
	if d.file == nil {
		return nil, nil
	}
	return d.file.Diary(context.Background())
}

// EditNote checks an entry and writes it over the line with its number, if
// that is still in the state change; else an error says that somebody else
// altered it meanwhile.
func (d *Desk) EditNote(entry diary.Entry, change int) error {
	if d.file == nil {
		return errNotKept
	}
	c, err := d.DiaryContext()
	if err != nil {
		return err
	}
	if _, err := diary.Check(entry, c); err != nil {
		return err
	}
	return d.file.EditDiary(context.Background(), entry, change, d.now())
}

// RemoveNote takes a line out of the diary; UndoNote brings it back.
func (d *Desk) RemoveNote(id int64) error {
	if d.file == nil {
		return errNotKept
	}
	return d.file.RemoveDiary(context.Background(), id, d.now())
}

// UndoNote takes back the last deed done to the diary and says what it was.
func (d *Desk) UndoNote() (string, error) {
	if d.file == nil {
		return "", errNotKept
	}
	line, err := d.file.UndoDiary(context.Background())
	if err != nil {
		return "", err
	}
	if line.Lines > 0 {
		return "taken out again: " + unit.Counted(line.Lines, "line", "lines") + " read from a file", nil
	}
	words := line.Say(d.cropName(line.Crop))
	if line.Stands {
		return "back as it was: " + words, nil
	}
	return "taken out again: " + words, nil
}

// SetPhoto keeps a photo with a line of the diary; no bytes take it away.
func (d *Desk) SetPhoto(id int64, mime string, image []byte) error {
	if d.file == nil {
		return errNotKept
	}
	return d.file.SetPhoto(context.Background(), id, mime, image, d.now())
}

// Photo is the photo kept with a line of the diary.
func (d *Desk) Photo(id int64) (mime string, image []byte, err error) {
	if d.file == nil {
		return "", nil, errNotKept
	}
	return d.file.Photo(context.Background(), id)
}
