package main

import (
	"errors"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"
)

// run parses a command line, runs it and turns its error into words and a code.
func (e *env) run(args []string) int {
	e.lettersOnly()
	root := e.root()
	root.SetArgs(args)
	stop := e.listen()
	defer stop()
	command, err := root.ExecuteContextC(e.ctx)
	if !e.shown {
		e.tell() // whichever command it was
	}
	if s := e.interrupted(); s != nil {
		if err != nil {
			e.say("loosebox: " + s.Error())
		}
		return s.code()
	}
	if err == nil {
		return exitDone
	}
	text := err.Error()
	var wrongUse *usageError
	if errors.As(err, &wrongUse) || isCobraUsage(text) {
		if isCountOfWords(text) {
			text = "too few words, or too many; it is written " + command.UseLine()
		}
		e.say("loosebox: " + text + hint(command, text))
		return exitUsage
	}
	if !errors.Is(err, errSilent) {
		e.say("loosebox: " + text)
	}
	return codeOf(err)
}

// lettersOnly has a terminal that is not UTF-8 shown ASCII, whatever is written.
func (e *env) lettersOnly() {
	if e.utf8() {
		return
	}
	for _, w := range []*io.Writer{&e.out, &e.errOut} {
		if f, ok := (*w).(*os.File); ok && term.IsTerminal(f.Fd()) {
			*w = &letters{File: f}
		}
	}
}

// hint stands behind a sentence, and on a line of its own below several.
func hint(command *cobra.Command, text string) string {
	how := "(" + command.CommandPath() + " --help shows how)"
	if strings.Contains(text, "\n") {
		return "\n" + how
	}
	return " " + how
}

// errSilent ends a command with code 1 or another after its own output said why.
var errSilent = errors.New("said already")

// isCobraUsage recognises the parser's own complaints, which have no type.
func isCobraUsage(text string) bool {
	return isCountOfWords(text) || startsWith(text, "unknown command", "unknown flag", "unknown shorthand", "invalid argument", "flag needs", "required flag")
}

// isCountOfWords recognises the parser's complaint about how many words stand
// behind a command, which does not say what they are.
func isCountOfWords(text string) bool {
	return startsWith(text, "accepts ", "requires ")
}

func startsWith(text string, starts ...string) bool {
	return slices.ContainsFunc(starts, func(start string) bool { return strings.HasPrefix(text, start) })
}

func (e *env) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "loosebox",
		Short: "the physical exam of a horse, step by step, counted, compared and kept",
		Long: `loosebox walks you through a horse's physical exam in one fixed order, counts
beats and breaths as you tap, sets every finding beside its published range and
the horse's own past, and keeps a record to which lines are only ever added.

It records, measures, compares and reminds. It makes no diagnosis and names no
drug and no dose: the veterinarian decides, and the label and local rules hold.

Without a command it opens the home screen.`,
		Args:          cobra.NoArgs,
		SilenceUsage:  true,
		SilenceErrors: true,
		RunE:          func(*cobra.Command, []string) error { return e.home() },
	}
	root.SetIn(e.in)
	root.SetOut(e.out)
	root.SetErr(e.errOut)
	flags := root.PersistentFlags()
	flags.StringVar(&e.dir, "data", "", "folder of the record (default: LOOSEBOX_DATA, or the system's data folder)")
	flags.BoolVar(&e.plain, "plain", false, "line by line, without redrawing: screen readers, pipes, scripts")
	flags.BoolVar(&e.noColour, "no-color", false, "no colour; NO_COLOR does the same")
	root.AddCommand(
		e.demoCommand(), e.examCommand(), e.rehearseCommand(), e.horsesCommand(), e.visitsCommand(), e.showCommand(), e.sheetCommand(),
		e.injectCommand(), e.drawCommand(), e.watchCommand(),
		e.compareCommand(), e.handoffCommand(), e.decideCommand(), e.afterCommand(), e.recheckCommand(), e.doseCommand(), e.dueCommand(), e.roundCommand(), e.judgeCommand(), e.importCommand(), e.exportCommand(), e.rangesCommand(), e.countCommand(),
		e.weighCommand(), e.volumeCommand(), e.bloodCommand(),
		e.rehearsalsCommand(), e.marksCommand(),
		e.correctCommand(), e.strikeCommand(), e.backupCommand(), e.restoreCommand(), e.checkCommand(), e.rebuildCommand(), e.keysCommand(), e.versionCommand(), e.manCommand(),
	)
	return root
}
