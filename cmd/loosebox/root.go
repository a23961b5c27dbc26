package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"regexp"
	"slices"
	"strings"
	"sync"

	"github.com/charmbracelet/x/ansi"
	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"

	"loosebox/exam/notation"
	"loosebox/exam/ownfile"
)

// run parses a command line, runs it and turns its error into words and a code.
func (e *env) run(args []string) int {
	e.lettersOnly()
	e.asJSON = wantsJSON(args)
	root := e.root()
	root.SetArgs(args)
	stop := e.listen()
	defer stop()
	command, err := root.ExecuteContextC(e.ctx)
	if !e.shown {
		e.tell() // whichever command it was
	}
	code, text := e.ending(command, err)
	if text == "" {
		return code
	}
	e.say("loosebox: " + text)
	if e.asJSON && !e.printed {
		_ = e.printJSON(failureOf(command, code, text)) // it was said already
	}
	return code
}

// ending is the exit code of a run, and what is said about its error.
func (e *env) ending(command *cobra.Command, err error) (code int, text string) {
	if s := e.interrupted(); s != nil {
		if err != nil {
			text = s.Error()
		}
		return s.code(), text
	}
	if err == nil {
		return exitDone, ""
	}
	text = inWords(err)
	var wrongUse *usageError
	if !errors.As(err, &wrongUse) && !isCobraUsage(text) {
		return codeOf(err), text
	}
	text = plainly(command, text)
	if isCountOfWords(text) {
		text = "too few words, or too many; it is written " + command.UseLine()
	}
	return exitUsage, text + hint(command, text)
}

// wantsJSON says that the words of a command line ask for one JSON object, also where
// they cannot be parsed.
func wantsJSON(args []string) bool {
	for _, word := range args {
		switch word {
		case "--":
			return false
		case "--json", "--json=true":
			return true
		}
	}
	return false
}

// failureJSON is the object of a command that failed. It has the command's schema, and
// nothing but the error beside it.
type failureJSON struct {
	Schema string `json:"schema"`
	Error  struct {
		Code int    `json:"code"` // the exit code
		Text string `json:"text"` // what is said
	} `json:"error"`
}

func failureOf(c *cobra.Command, code int, text string) failureJSON {
	f := failureJSON{Schema: schemaOf(c)}
	f.Error.Code, f.Error.Text = code, notation.CleanNote(text)
	return f
}

// schemaOf names the object that a command prints: loosebox/horses/1, loosebox/volume-drip/1.
func schemaOf(c *cobra.Command) string {
	words := strings.Fields(c.CommandPath())
	if len(words) == 1 {
		words = append(words, "home") // no command, or none that there is
	}
	return words[0] + "/" + strings.Join(words[1:], "-") + "/1"
}

// plainly makes the parser's complaint plain: which command or flag was probably
// meant, and what a number looks like.
func plainly(c *cobra.Command, text string) string {
	word, ok := inQuotes(text, "unknown command ")
	if words := c.Flags().Args(); !ok && !c.HasParent() && len(words) > 0 {
		word, ok = words[0], true // whatever else is wrong
	}
	if ok {
		var names []string
		for _, sub := range c.Root().Commands() {
			names = append(names, sub.Name())
		}
		return fmt.Sprintf("there is no command %q", notation.CleanLine(word, 40)) + didYouMean(word, names)
	}
	if word, ok := strings.CutPrefix(text, "unknown flag: --"); ok {
		var names []string
		for _, m := range flagName().FindAllStringSubmatch(c.LocalFlags().FlagUsages()+c.InheritedFlags().FlagUsages(), -1) {
			names = append(names, m[1])
		}
		text = fmt.Sprintf("%s has no flag --%s", c.CommandPath(), notation.CleanLine(word, 40))
		if i := ownfile.Nearest(word, names); i >= 0 {
			text += "; did you mean --" + names[i] + "?"
		}
		return text
	}
	if word, ok := strings.CutPrefix(text, "flag needs an argument: "); ok {
		return notation.CleanLine(word, 40) + " needs a word behind it"
	}
	if m := wrongShort().FindStringSubmatch(text); m != nil {
		return fmt.Sprintf("%s has no flag -%s", c.CommandPath(), notation.CleanLine(m[1], 10))
	}
	if m := wrongNumber().FindStringSubmatch(text); m != nil {
		return fmt.Sprintf("%s is a whole number, not %q", m[2], notation.CleanLine(m[1], 40))
	}
	return text
}

var flagName = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?m)^ +(?:-\w, )?--([\w-]+)`) })

var wrongShort = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^unknown shorthand flag: '(.*)' in`) })

var wrongNumber = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^invalid argument "(.*)" for "(?:-\w, )?(--[\w-]+)" flag: strconv\.`)
})

// inQuotes is the first text in quotes behind a beginning.
func inQuotes(text, start string) (string, bool) {
	after, ok := strings.CutPrefix(text, start+"\"")
	if !ok {
		return "", false
	}
	word, _, ok := strings.Cut(after, "\"")
	return word, ok
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

// narrow sets the paragraphs of a text as wide as a page. One with lines that are
// set in keeps its lines; those that are too long are broken.
func narrow(text string) string {
	paragraphs := strings.Split(text, "\n\n")
	for i, p := range paragraphs {
		lines := strings.Split(p, "\n")
		if !slices.ContainsFunc(lines, func(l string) bool { return strings.HasPrefix(l, " ") }) {
			paragraphs[i] = filled(strings.Join(lines, " "), pageWidth)
			continue
		}
		for n, line := range lines {
			lines[n] = broken(line, pageWidth)
		}
		paragraphs[i] = strings.Join(lines, "\n")
	}
	return strings.Join(paragraphs, "\n\n")
}

// setExamples sets examples as wide as a page: a line that goes on ends as shells have it.
func setExamples(text string) string {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		var b strings.Builder
		at := 0
		for n, word := range shellWords().FindAllString(line, -1) {
			w := ansi.StringWidth(word)
			switch {
			case n == 0:
				b.WriteString("  ")
				at = 2
			case at+1+w > pageWidth-2:
				b.WriteString(" \\\n    ")
				at = 4
			default:
				b.WriteByte(' ')
				at++
			}
			b.WriteString(word)
			at += w
		}
		lines[i] = b.String()
	}
	return strings.Join(lines, "\n")
}

// shellWords are words as a shell takes them apart, quotes included.
var shellWords = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`"[^"]*"|\S+`) })

// filled breaks a text between words.
func filled(text string, wide int) string {
	var b strings.Builder
	at := 0
	for i, word := range strings.Fields(text) {
		w := ansi.StringWidth(word)
		switch {
		case i == 0:
		case at+1+w > wide:
			b.WriteByte('\n')
			at = 0
		default:
			b.WriteByte(' ')
			at++
		}
		b.WriteString(word)
		at += w
	}
	return b.String()
}

// hint stands behind a sentence, and on a line of its own below several.
func hint(command *cobra.Command, text string) string {
	how := "(" + command.CommandPath() + " --help shows how)"
	if strings.Contains(text, "\n") {
		return "\n" + how
	}
	return " " + how
}

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
	root.AddCommand(e.procedures()...)
	root.AddCommand(
		e.demoCommand(), e.examCommand(), e.rehearseCommand(), e.horsesCommand(), e.visitsCommand(), e.showCommand(), e.sheetCommand(),
		e.compareCommand(), e.handoffCommand(), e.decideCommand(), e.afterCommand(), e.recheckCommand(), e.doseCommand(), e.dueCommand(), e.roundCommand(), e.judgeCommand(), e.importCommand(), e.exportCommand(), e.rangesCommand(), e.countCommand(),
		e.weighCommand(), e.volumeCommand(), e.bloodCommand(),
		e.rehearsalsCommand(), e.marksCommand(),
		e.correctCommand(), e.strikeCommand(), e.backupCommand(), e.restoreCommand(), e.checkCommand(), e.rebuildCommand(), e.keysCommand(), e.versionCommand(), e.manCommand(),
	)
	root.SetUsageTemplate(strings.ReplaceAll(root.UsageTemplate(), "FlagUsages", "FlagUsagesWrapped 80"))
	help := root.HelpFunc()
	root.SetHelpFunc(func(c *cobra.Command, args []string) {
		c.Long, c.Example = narrow(c.Long), setExamples(c.Example)
		help(c, args)
	})
	root.InitDefaultCompletionCmd(root.Name())
	root.InitDefaultHelpCmd()
	e.finish(root)
	return root
}

// helpOn shows the help of a command that is there.
func helpOn(c *cobra.Command, args []string) error {
	on, rest, err := c.Root().Find(args)
	if err != nil || len(rest) > 0 {
		word := strings.Join(args, " ")
		var names []string
		for _, sub := range c.Root().Commands() {
			names = append(names, sub.Name())
		}
		return usage("there is no command %q%s", notation.CleanLine(word, 40), didYouMean(word, names))
	}
	on.InitDefaultHelpFlag()
	return on.Help()
}

// finish gives a command and those below it their completion and their examples.
func (e *env) finish(c *cobra.Command) {
	if c.Name() == "completion" {
		c.Args = cobra.ArbitraryArgs
		c.RunE = func(c *cobra.Command, _ []string) error {
			return usage("%s is written with a shell: bash, zsh, fish or powershell", c.CommandPath())
		}
	} else if c.Name() == "help" {
		c.Run, c.RunE = nil, helpOn
	} else if c.HasParent() && c.ValidArgsFunction == nil && c.Parent().Name() != "completion" {
		e.offer(c)
	}
	if text, ok := examples()[c.CommandPath()]; ok {
		c.Example = text
	}
	for _, below := range c.Commands() {
		e.finish(below)
	}
}
