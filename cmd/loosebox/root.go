package main

import (
	"io"
	"os"
	"strconv"
	"strings"

	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"
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
	if e.asJSON && (e.begun || !e.printed) {
		_ = e.endJSON(failureOf(command, code, text)) // it was said already
	}
	return code
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

func (e *env) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "loosebox",
		Short: "the physical exam of a horse: step by step, counted, compared and saved",
		Long: `loosebox guides a horse's physical exam, step by step. It counts beats and breaths
as you tap. It shows every finding beside its published range and the horse's
earlier values. It keeps a record to which lines are only added.

It records, measures, compares and reminds. It makes no diagnosis and names no
drug and no dose. The veterinarian decides; the label and local rules apply.

Without a command it opens the home screen. loosebox help TOPIC shows a page of
the manual: ` + topics() + `.`,
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
	flags.BoolVar(&e.plain, "plain", false, "line by line, for screen readers, pipes and scripts")
	flags.BoolVar(&e.noColour, "no-color", false, "no color; NO_COLOR does the same")
	for i, g := range e.commands() {
		id := strconv.Itoa(i)
		root.AddGroup(&cobra.Group{ID: id, Title: g.title + ":"})
		for _, c := range g.commands {
			c.GroupID = id
		}
		root.AddCommand(g.commands...)
		root.SetHelpCommandGroupID(id)
		root.SetCompletionCommandGroupID(id) // of the last group
	}
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

// group is what the help and manual/commands.md show under one title.
type group struct {
	title    string
	commands []*cobra.Command
}

func (e *env) commands() []group {
	return []group{
		{"The exam", []*cobra.Command{e.examCommand(), e.countCommand(), e.correctCommand(), e.strikeCommand()}},
		{"The past", []*cobra.Command{
			e.horsesCommand(), e.visitsCommand(), e.showCommand(), e.compareCommand(), e.episodeCommand(), e.dueCommand(),
			e.roundCommand(), e.sheetCommand(),
		}},
		{"After the exam", append(e.procedures(),
			e.afterCommand(), e.handoffCommand(), e.decideCommand(), e.readCommand(), e.labelsCommand(), e.recheckCommand(),
			e.doseCommand(), e.takeOverCommand())},
		{"Sums", []*cobra.Command{e.weighCommand(), e.volumeCommand(), e.bloodCommand(), e.rangesCommand(), e.judgeCommand()}},
		{"Learning", []*cobra.Command{
			e.demoCommand(), e.rehearseCommand(), e.rehearsalsCommand(), e.marksCommand(), e.classCommand(),
		}},
		{"The record", []*cobra.Command{
			e.importCommand(), e.importsCommand(), e.exportCommand(), e.backupCommand(), e.restoreCommand(), e.checkCommand(),
			e.rebuildCommand(), e.shareCommand(), e.joinCommand(), e.partCommand(), e.settingsCommand(), e.settleCommand(),
		}},
		{"The program", []*cobra.Command{e.keysCommand(), e.versionCommand(), e.manCommand()}},
	}
}

// finish gives a command and those below it their completion and their examples.
func (e *env) finish(c *cobra.Command) {
	if c.Name() == "completion" {
		c.Short = "what completes commands and names in your shell"
		c.Args = cobra.ArbitraryArgs
		c.RunE = func(c *cobra.Command, _ []string) error {
			return usage("%s is written with a shell: bash, zsh, fish or powershell", c.CommandPath())
		}
	} else if c.Name() == "help" {
		c.Short = "a page of the manual, or what a command takes"
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
