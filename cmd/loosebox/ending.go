package main

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"

	"github.com/spf13/cobra"

	"loosebox/exam/notation"
	"loosebox/exam/ownfile"
)

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
		text = "wrong number of arguments; use " + command.UseLine()
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
