package cli

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/alecthomas/kong"

	"haulm/internal/calendar"
	"haulm/internal/crop"
)

// World is what the commands may touch of the machine.
type World struct {
	Out, Err io.Writer
	In       io.Reader
	Now      func() time.Time
	Terminal bool // Err is a screen: progress may be drawn on it
}

// Exit codes.
const (
	exitOK  = 0
	exitBad = 2 // bad input, or it could not be done; stderr says why in one line
)

// commands is the whole command line. Commands come in the order in which a
// newcomer meets them.
type commands struct {
	Garden string `help:"The garden's file. Default: the usual place for a person's data on this system." placeholder:"FILE" type:"path"`

	Demo     demoCmd     `cmd:"" help:"Plan an invented garden and show it in the browser."`
	Serve    serveCmd    `cmd:"" help:"Show your garden in the browser, on this machine only."`
	Plan     planCmd     `cmd:"" help:"Plan the garden's year."`
	Ask      askCmd      `cmd:"" help:"Ask the plan: what a crop, a square metre or half an hour is worth; the shortlist."`
	Today    todayCmd    `cmd:"" help:"What to do in the garden this morning, with water and alarms."`
	Note     noteCmd     `cmd:"" help:"Write what happened in the diary."`
	Lock     lockCmd     `cmd:"" help:"Keep plantings in every plan, or ban crops from places."`
	Fill     fillCmd     `cmd:"" help:"What can still go into a free stretch of ground."`
	Calendar calendarCmd `cmd:"" help:"The jobs ahead as an iCalendar file."`
	Year     yearCmd     `cmd:"" help:"The year's end: what was forecast, what came, what to change; begin the next."`
	Frost    frostCmd    `cmd:"" help:"The odds of frost in a weather record."`
	Place    placeCmd    `cmd:"" help:"Find a place: where it lies and how high."`
	Grow     growCmd     `cmd:"" help:"How a crop would have done in every year on record."`
	Crops    cropsCmd    `cmd:"" help:"The crops, or one crop's figures with their sources."`
	Record   recordCmd   `cmd:"" help:"Read a weather record and say what is in it and what is wrong with it."`
	Weather  weatherCmd  `cmd:"" help:"Fetch, join, shift, convert and check weather records."`
	Import   importCmd   `cmd:"" help:"Take a garden from a text file (TOML), or a diary from a table (CSV)."`
	Export   exportCmd   `cmd:"" help:"Write the garden as a text file (TOML), its weather record beside it; or, with --all, everything."`
	Validate validateCmd `cmd:"" help:"Hold the growth model against published trials."`
	Solve    solveCmd    `cmd:"" help:"Solve a cropping problem given as numbers (JSON)."`
}

// session is what every command is handed.
type session struct {
	World
	ctx       context.Context
	gardenAt  string // --garden
	catalogue *crop.Catalogue
}

// Run runs one command line and returns its exit code.
func Run(ctx context.Context, args []string, world World) int {
	var root commands
	exited := -1
	parser, err := kong.New(&root, append(givenReaders(),
		kong.Name("haulm"),
		kong.Description("Haulm grows your garden through every year of your own weather before a seed is sown, and plans the year that feeds the table best."),
		kong.Writers(world.Out, world.Err),
		kong.Exit(func(code int) { exited = code }),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, WrapUpperBound: 100}),
	)...)
	if err != nil {
		return world.fail(err)
	}
	parser.Model.HelpFlag.Help = "Show how it is used."
	if len(args) == 0 {
		args = []string{"--help"}
	}
	parsed, err := parser.Parse(joinNegatives(args))
	if exited >= 0 {
		return exited // help was asked for and given
	}
	if err != nil {
		return world.fail(plainly(err))
	}
	catalogue, err := crop.Load()
	if err != nil {
		return world.fail(err)
	}
	s := &session{World: world, ctx: ctx, gardenAt: root.Garden, catalogue: catalogue}
	if err := parsed.Run(s); err != nil {
		return world.fail(err)
	}
	return exitOK
}

// joinNegatives ties a negative number to the flag before it, so that
// --lon -6.3 is read as --lon=-6.3 and not as a flag called 6; and to the
// number before it in coordinates, as in haulm place 53.4 -6.3.
func joinNegatives(args []string) []string {
	var out []string
	for _, arg := range args {
		last := len(out) - 1
		if last >= 0 && strings.HasPrefix(out[last], "--") && !strings.Contains(out[last], "=") && negative(arg) {
			out[last] += "=" + arg
			continue
		}
		if last >= 1 && out[0] == "place" && negative(arg) {
			out[last] += " " + arg
			continue
		}
		out = append(out, arg)
	}
	return out
}

func negative(arg string) bool {
	return len(arg) > 1 && arg[0] == '-' && (arg[1] >= '0' && arg[1] <= '9' || arg[1] == '.')
}

// fail says what went wrong in one line.
func (w World) fail(err error) int {
	line := strings.Join(strings.Fields(err.Error()), " ")
	fmt.Fprintf(w.Err, "haulm: %s\n", line)
	return exitBad
}

func (s *session) today() calendar.Date { return calendar.FromTime(s.Now()) }

// dayFlag reads the day that a flag names; None where the flag was not given.
func dayFlag(name, text string) (calendar.Date, error) {
	if text == "" {
		return calendar.None, nil
	}
	day, err := calendar.Parse(text)
	if err != nil {
		return calendar.None, fmt.Errorf("%s: %w", name, err)
	}
	return day, nil
}

// printJSON writes an answer as indented JSON.
func (s *session) printJSON(answer any) error {
	encoder := json.NewEncoder(s.Out)
	encoder.SetIndent("", "  ")
	encoder.SetEscapeHTML(false)
	return encoder.Encode(answer)
}

func (s *session) printf(format string, args ...any) { fmt.Fprintf(s.Out, format, args...) }
