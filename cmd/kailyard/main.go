// Command kailyard is commands and wiring, one file each.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"regexp"
	"slices"
	"strings"
	"syscall"
	"time"

	"github.com/alecthomas/kong"

	"kailyard/internal/civil"
	"kailyard/internal/fetch"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	m := Main{Stdout: os.Stdout, Stderr: os.Stderr, Today: civil.OfTime(time.Now()), Clock: func() civil.Date { return civil.OfTime(time.Now()) }}
	os.Exit(m.Run(ctx, os.Args[1:]))
}

// Main is the program with its edges as fields, so that tests run the very same one.
type Main struct {
	Stdout, Stderr io.Writer
	Today          civil.Date        // the day the run began, or the one --today names
	Clock          func() civil.Date // the day it is while serving; nil: Today
	Services       fetch.Fetcher     // how weather services are asked; the zero value asks them as they are
}

// Exit codes, documented in doc/cli.md.
const (
	exitDone  = 0 // done
	exitCould = 1 // understood, but it could not be done: the sentence says why
	exitUsage = 2 // the command line was off
)

type commands struct {
	Book  string    `help:"The garden book: one file that holds everything." short:"b" default:"garden.kailyard" env:"KAILYARD_BOOK" placeholder:"FILE"`
	JSON  bool      `name:"json" help:"Print JSON with stable names (doc/cli.md) instead of words."`
	Today civilFlag `help:"Work as if today were this date." placeholder:"DATE"`

	Demo    demoCmd    `cmd:"" group:"start" help:"Plan an invented garden and show it in the browser."`
	New     newCmd     `cmd:"" group:"start" help:"Start a garden book."`
	Import  importCmd  `cmd:"" group:"ground" help:"Take a garden description into the book."`
	Export  exportCmd  `cmd:"" group:"ground" help:"Write the book's garden as a description."`
	Weather weatherCmd `cmd:"" group:"ground" help:"Give the book a weather record, or say what it has."`
	Places  placesCmd  `cmd:"" group:"ground" help:"List the built-in climates, for a garden without a record."`
	Soil    soilCmd    `cmd:"" group:"ground" help:"The soil book: tests, what was put on, what each bed asks for, what to buy."`
	Heap    heapCmd    `cmd:"" group:"ground" help:"Compost heaps: a recipe, their log, and whether they are fit to use."`
	Dig     digCmd     `cmd:"" group:"ground" help:"When the ground is dry enough to dig, and the short spells it is dug in."`
	Water   waterCmd   `cmd:"" group:"work" help:"How much water the beds want, whether tap and butt supply it, and which bed wants it today."`
	Plan    planCmd    `cmd:"" group:"work" help:"Plan the season and keep the plan."`
	Plans   plansCmd   `cmd:"" group:"work" help:"Other plans for the season beside the one as set: less ground, less work, surer."`
	Gain    gainCmd    `cmd:"" group:"work" help:"How near the plan comes to what any plan could, where the rest goes, and what would help."`
	Jobs    jobsCmd    `cmd:"" group:"work" help:"Read a week's jobs."`
	Orders  ordersCmd  `cmd:"" group:"work" help:"Read what to buy, and by when."`
	Note    noteCmd    `cmd:"" group:"work" help:"Write down what happened."`
	Journal journalCmd `cmd:"" group:"work" help:"Read what happened."`
	Under   underCmd   `cmd:"" group:"work" help:"Grow one planting under a cover or in the open, or say what each would bring."`
	Pin     pinCmd     `cmd:"" group:"work" help:"Keep one planting exactly so in every new plan, or let the planner move it again."`
	Veto    vetoCmd    `cmd:"" group:"work" help:"Say what you will not have: a crop or family in a bed, a way, or before a day."`
	Write   writeCmd   `cmd:"" group:"work" help:"Write the plan, jobs or orders for other programs."`
	Windows windowsCmd `cmd:"" group:"ask" help:"When can a crop go in here, and how surely?"`
	Ready   readyCmd   `cmd:"" group:"ask" help:"Work back from a day: when must a crop go in to be ready by it?"`
	Light   lightCmd   `cmd:"" group:"ask" help:"How many hours of sun each bed gets by month, what it is good for, and what to do about shade."`
	Climate climateCmd `cmd:"" group:"ask" help:"What the climate is here, how it has moved, how good its record is."`
	Frost   frostCmd   `cmd:"" group:"ask" help:"The chances of late and early frost here."`
	Crops   cropsCmd   `cmd:"" group:"ask" help:"The catalogue, a crop's figures with their sources, and your own crops."`
	Covers  coversCmd  `cmd:"" group:"ask" help:"Covers to grow under: their gains, with their sources."`
	Sources sourcesCmd `cmd:"" group:"ask" help:"The works that figures and rules cite."`
	Serve   serveCmd   `cmd:"" group:"keep" help:"Show the book in the browser."`
	Backup  backupCmd  `cmd:"" group:"keep" help:"Copy the book, while it is in use or not."`
	Restore restoreCmd `cmd:"" group:"keep" help:"Put a copy back, keeping what it replaces."`
}

var groups = kong.Groups{
	"start":  "To begin",
	"ground": "The ground and its weather",
	"work":   "The season",
	"ask":    "Questions",
	"keep":   "The book",
}

const about = `Kailyard turns a piece of ground, its recorded weather and what the household wants to eat
into the right job on the right day in the right bed.`

// exampler is a command whose help ends in an example.
type exampler interface{ example() string }

// help prints kong's help and then the command's example.
func help(options kong.HelpOptions, ctx *kong.Context) error {
	if err := kong.DefaultHelpPrinter(options, ctx); err != nil {
		return err
	}
	text := "kailyard demo"
	if node := ctx.Selected(); node != nil {
		if e, ok := node.Target.Addr().Interface().(exampler); ok {
			text = e.example()
		}
	}
	_, err := fmt.Fprintf(ctx.Stdout, "\nExample:\n  %s\n", strings.ReplaceAll(text, "\n", "\n  "))
	return err
}

// stopParsing ends the run from within kong's exit hook.
type stopParsing int

// Run parses the arguments, runs the command and returns the exit code.
func (m *Main) Run(ctx context.Context, args []string) (code int) {
	defer func() {
		if r := recover(); r != nil {
			s, ok := r.(stopParsing)
			if !ok {
				panic(r)
			}
			code = int(s)
		}
	}()
	var line commands
	parser, err := kong.New(&line,
		kong.Name("kailyard"), kong.Description(about), kong.Writers(m.Stdout, m.Stderr), groups,
		kong.Exit(func(code int) { panic(stopParsing(code)) }), kong.Help(help),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, WrapUpperBound: 96}),
		kong.BindTo(ctx, (*context.Context)(nil)), kong.Vars{"settings": settingNames(), "ways": strings.Join(wayIDs(), ", "), "feasts": feastNames()},
	)
	if err != nil {
		panic(err) // a mistake in the struct above
	}
	if len(args) == 0 {
		args = []string{"--help"}
	}
	parsed, err := parser.Parse(belowNothing(args))
	if err != nil {
		fmt.Fprintf(m.Stderr, "kailyard: %v\nRun `kailyard --help`, or `kailyard COMMAND --help`.\n", err)
		return exitUsage
	}
	if line.Today.set {
		m.Today, m.Clock = line.Today.date, nil
	}
	env := &env{Main: m, book: line.Book, json: line.JSON}
	err = parsed.Run(env)
	var usage usageError
	switch {
	case err == nil, errors.Is(err, context.Canceled):
		return exitDone
	case errors.As(err, &usage):
		fmt.Fprintf(m.Stderr, "kailyard: %v\n", err)
		return exitUsage
	default:
		fmt.Fprintf(m.Stderr, "kailyard: %v\n", err)
		return exitCould
	}
}

// belowZero is a figure below nothing, with its unit or without. No flag begins so.
var belowZero = regexp.MustCompile(`^-((?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+|½)(?:\s*[A-Za-z°%].*)?)$`)

// belowNothing writes figures below nothing with the minus of print, so that -5 is read as a figure and not as a flag; the
// command then takes it, or says what is wrong with it.
func belowNothing(args []string) []string {
	out := slices.Clone(args)
	for i, a := range out {
		out[i] = belowZero.ReplaceAllString(a, "−$1")
	}
	return out
}

// usageError is a mistake in the command line that kong cannot see.
type usageError struct{ says string }

func (e usageError) Error() string { return e.says }

// civilFlag is a date on the command line.
type civilFlag struct {
	date civil.Date
	set  bool
}

// UnmarshalText reads the flag.
func (c *civilFlag) UnmarshalText(text []byte) error {
	d, err := civil.Parse(string(text))
	if err != nil {
		return err
	}
	c.date, c.set = d, true
	return nil
}
