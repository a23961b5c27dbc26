package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"
	"unicode"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/loosebox/manual"
)

// retired are phrases that no person reads any more, in their context, and what is said instead. A word is retired in one
// sense only: "left fore" and "watch from outside" stay.
var retired = []struct{ phrase, say string }{
	{`\b(write|writes|wrote|written|writing) (it |them |one )?down\b`, "save, record"},
	{`\bpass(ed|es)? (it |them |the step )?over\b`, "not done, skip"},
	{`\bstruck\b|\bstrikes? (a|this|the|whole) (whole )?visit`, "void"},
	{`\bruling\b`, "decision"},
	{`\b(holds?|held) until\b`, "valid until"},
	{`\bby whom\b`, "your name, recorded by"},
	{`\bwithin noise\b|\bmore than noise\b|\(noise to\b`, "normal variation"},
	{`\bfirm(ing)? (up|at)\b|\bfirm:`, "steady"},
	{`\bown range\b`, "this horse's range"},
	{`\bkeepers?\b`, "groom"},
	{`\bcatching\b`, "contagious"},
	{`\bfirst series\b`, "primary series"},
	{`\bnobody (knows|can say|could say)\b`, "not known"},
	{`\bfrom papers\b|\bearlier doses?\b|\bno dose noted\b`, "past dose"},
	{`\bhand(ed|s)? (it |a horse |this horse )?over\b|\bcarr(y|ied) (it |this horse |every horse )?over\b`, "reassign, move"},
	{`\bscatter(s|ed)?\b`, "accuracy, vary"},
	{`\b(take|takes|taken) (it |them |one )?back\b|\btakes? the last .{2,24} back\b`, "remove, void"},
	{`\bstored\b`, "saved"},
	{`\bstal(e|es|ed|ing)\b`, "urinate"},
	{`\bleads? in\b|\blead-in\b`, "warm-up"},
	{`\bputs? (it |them |both |this )?right\b|\bput right\b`, "correct"},
	{`\b(the|a|no) watch (is|runs|ran|that|stays|after|has|begins)\b|\bwatch(es)? after\b|\b(is|are) (not )?watched\b|\bthe horse is watched\b|\btype watch\b|\bdraw(,| or) watch\b`, "observation, observe"},
	{`\bclass today\b`, "ranges used"},
	{`\bas it must be\b|\bgoes by itself\b|\bbeside the vein\b|\bsick vein\b|\bthe exam goes on at\b|\bOVER since\b`, "the words of the glossary"},
	{`\bnote (to|of) (this|the) (step|visit)\b|\bwrite a note\b|\bin a note\b|\bthe note is\b`, "comment"},
	{`\bplaces? (is|are) left\b|\b\d+ left\.|\bplaces left\b|\bleft open\b`, "to do, not answered"},
	{`\brecheck (is )?(due|overdue|next|set)\b|\b(a|the|set the|that) recheck (is|was|has|for|on)\b|\brechecks\b`, "follow-up"},
	{`\bhabit of the trade\b`, "common practice"},
	{`\bfirst say what happened\b`, "first record what happened"},
	{`\bthrow(s|n)? (it |this |the .{2,12} )?away\b|\bthrow-away\b`, "discard, temporary"},
	{`\bcolours?\b`, "color"},
	{`\b(demeanour|travelled|labelled|grey|odour|neighbours?|cent(re|imetre)s?|favour|analyse|organise[sd]?|judgement)\b`, "American spelling"},
	{`\b(behaviour|diarrhoea|anaemia|oedema|practise[sd]?|licences?|litres?|millilitres?|laboured|recognise[sd]?|programme)\b`, "American spelling"},
}

// allowed are uses that stay: keys of files, of JSON and of columns ("earlier dose", "scatter"), names of sources, and
// input that is understood.
var allowed = regexp.MustCompile(`(?i)(open|done|locked) +earlier dose|breath +scatter|gum\.colour|"?colour"?:|, colour,|breed, colour|infectious anaemia|\bcolor(ed|less|s)?\b|colour_pattern|worked, excited, travelled|\[demeanour, pain|(heat|^)travelled`)

// notShown are folders and files whose texts no person of the practice reads: tools, tests, codes of other formats, words
// that are understood in sheets.
var notShown = regexp.MustCompile(`^(cmd/(faults|bench|termtest)|exam/examtest|storage/storagetest|tui/screentest|exam/report/fhir|exam/intake/(lexicon|heads)\.go|exam/demo)`)

// cited are texts that name where a figure was read: a citation is no sentence.
var cited = regexp.MustCompile(`et al\.|doi |\b(19|20)\d\d;|CFR|University|FEI |handling lists|\(second-hand\)|common practice`)

// shownText is a text that a person may read, and where it stands.
type shownText struct{ where, text string }

// literalsOnce reads the program once for all tests.
var literalsOnce = sync.OnceValues(func() (all []shownText, err error) {
	err = readLiterals(func(where, text string) { all = append(all, shownText{where, text}) })
	return all, err
})

// literals walks the string literals of the program; those that are joined by + are one text, with {} for what is not a
// literal.
func literals(t *testing.T, see func(where, text string)) {
	t.Helper()
	all, err := literalsOnce()
	require.NoError(t, err)
	for _, l := range all {
		see(l.where, l.text)
	}
}

func readLiterals(see func(where, text string)) error {
	root := "../.."
	return filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		name := filepath.ToSlash(strings.TrimPrefix(path, root+string(filepath.Separator)))
		if err != nil || d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") || notShown.MatchString(name) {
			return err
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, path, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.ImportSpec:
				return false
			case *ast.ValueSpec:
				if n.Type != nil && len(n.Values) == 1 { // a key of a type is no text
					if _, key := n.Type.(*ast.Ident); key {
						return false
					}
				}
			case *ast.Field:
				return n.Tag == nil
			case ast.Expr:
				if text, ok := joined(n); ok {
					see(name+":"+strconv.Itoa(set.Position(n.Pos()).Line), text)
					return false
				}
			}
			return true
		})
		return nil
	})
}

// joined is the text of a literal, or of literals joined by +.
func joined(e ast.Expr) (string, bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		if e.Kind == token.STRING {
			text, err := strconv.Unquote(e.Value)
			return text, err == nil
		}
	case *ast.BinaryExpr:
		if e.Op == token.ADD {
			left, one := joined(e.X)
			right, other := joined(e.Y)
			if !one {
				left = "{}"
			}
			if !other {
				right = "{}"
			}
			return left + right, one || other
		}
	case *ast.ParenExpr:
		return joined(e.X)
	}
	return "", false
}

// everyText walks everything that a person reads: literals of the program, help of every command, golden screens, the states
// of procedures, the README and the manual.
func everyText(t *testing.T, see func(where, text string)) {
	t.Helper()
	literals(t, see)
	var help func(c *cobra.Command)
	help = func(c *cobra.Command) {
		see(c.CommandPath(), c.Short)
		see(c.CommandPath(), c.Long)
		see(c.CommandPath(), c.Flags().FlagUsages())
		for _, sub := range c.Commands() {
			help(sub)
		}
	}
	help((&env{}).root())
	for _, pattern := range []string{"../../testdata/screens/*.txt", "../../exam/procedure/script/testdata/*.txt", "../../README.md", "manual/*.md"} {
		files, err := filepath.Glob(pattern)
		require.NoError(t, err)
		require.NotEmpty(t, files, pattern)
		for _, file := range files {
			content, err := os.ReadFile(file)
			require.NoError(t, err)
			for i, line := range strings.Split(string(content), "\n") {
				see(filepath.Base(file)+":"+strconv.Itoa(i+1), line)
			}
		}
	}
}

func TestNoRetiredWordIsShown(t *testing.T) {
	phrases := make([]*regexp.Regexp, len(retired))
	for i, r := range retired {
		phrases[i] = regexp.MustCompile(`(?i)` + r.phrase)
	}
	looked := 0
	everyText(t, func(where, text string) {
		if !strings.Contains(text, " ") {
			return // a key, or the name of a file
		}
		looked++
		rest := allowed.ReplaceAllString(text, "")
		for i, p := range phrases {
			if found := p.FindString(rest); found != "" {
				t.Errorf("%s: %q is retired: say %s: %q", where, found, retired[i].say, strings.TrimSpace(cutText(text)))
			}
		}
	})
	assert.Greater(t, looked, 9000)
}

// mostWords is how many words a sentence has at the most; 15 are aimed at.
const mostWords = 20

func TestNoSentenceIsTooLong(t *testing.T) {
	over := 0
	literals(t, func(where, text string) {
		if !strings.Contains(text, " ") || cited.MatchString(text) || strings.Contains(text, "\n  ") || strings.Contains(text, ": tarn\n") || strings.HasPrefix(text, "name: ") || strings.HasPrefix(text, "  loosebox ") {
			return // a citation, a file or an example
		}
		for _, sentence := range sentences(text) {
			words := 0
			for _, w := range strings.Fields(sentence) {
				if strings.ContainsFunc(w, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) || r == '%' || r == '{' }) {
					words++
				}
			}
			if words > 15 {
				over++
			}
			assert.LessOrEqual(t, words, mostWords, "%s: %q", where, sentence)
		}
	})
	printed := regexp.MustCompile("(?s)```.*?```")
	for _, p := range manual.Pages() {
		for _, paragraph := range regexp.MustCompile(`\n\n|\n(?:- |## )`).Split(printed.ReplaceAllString(p.Text, ""), -1) {
			if strings.HasPrefix(paragraph, "    ") || cited.MatchString(paragraph) {
				continue
			}
			for _, sentence := range sentences(paragraph) {
				assert.LessOrEqual(t, len(strings.Fields(sentence)), mostWords, "%s: %q", p.Topic, sentence)
			}
		}
	}
	t.Logf("%d sentences have more than 15 words", over)
}

var (
	brokenLine    = regexp.MustCompile(`([^\n])\n([^\n ])`)
	endOfSentence = regexp.MustCompile(`[.!?](?:[\s"')]|$)|\n`)
)

// sentences cuts a text at the ends of its sentences, paragraphs and lines of a list.
func sentences(text string) []string {
	return endOfSentence.Split(brokenLine.ReplaceAllString(text, "$1 $2"), -1)
}

func cutText(text string) string {
	if r := []rune(text); len(r) > 120 {
		return string(r[:120])
	}
	return text
}
