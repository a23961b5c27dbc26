//go:build unix

package main

import (
	"encoding/json"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/termtest"
	"loosebox/exam/roster"
)

// walk visits every command.
func walk(c *cobra.Command, do func(*cobra.Command)) {
	do(c)
	for _, below := range c.Commands() {
		walk(below, do)
	}
}

func commands() (all []*cobra.Command) {
	root := (&env{out: io.Discard, errOut: io.Discard}).root()
	walk(root, func(c *cobra.Command) { all = append(all, c) })
	return all
}

// place is a folder in which the examples are run: a record, and the files that they read.
type place struct {
	t         *testing.T
	dir, yard string
	env       []string
}

func newPlace(t *testing.T) place {
	t.Helper()
	dir := t.TempDir()
	p := place{t, dir, yard(t), append(termtest.Env(t.TempDir(), filepath.Join(dir, "record")), testPhrase)}
	for name, text := range map[string]string{
		"spring.yaml": "set: Spring\ncase: tarn\nseed: 41\n",
		"times.txt":   "0\n4.1\n8\n12.2\n16\n20.1\n24\n",
		"exams.csv":   "id,kind,age,heart.rate,temp.rectal\n1,horse,9y,44,101.2F\n",
		"old.csv":     "Name,Seen,Temp\nBracken,02/03/2025,38.1\n",
		"map.yaml":    "horse:\n  kind: pony\nvisit:\n  by: Sue Hart\n  routine: tpr-recheck\ncolumns:\n  Name: horse name\n  Seen: {is: date, format: DD/MM/YYYY}\n  Temp: {step: temp.rectal, unit: C}\n",
	} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600))
	}
	require.NoError(t, os.Mkdir(filepath.Join(dir, "stick"), 0o700))
	p.again()
	for _, args := range [][]string{{"export", "-o", "old.jsonl"}, {"backup", "stick.tar.age"}, {"share", "request", "--name", "truck", "-o", "asked"}} {
		_, errOut, code := p.run(args...)
		require.Zero(t, code, errOut)
	}
	return p
}

// again makes the record anew.
func (p place) again() {
	p.t.Helper()
	require.NoError(p.t, os.RemoveAll(filepath.Join(p.dir, "record")))
	require.NoError(p.t, os.CopyFS(filepath.Join(p.dir, "record"), os.DirFS(p.yard)))
}

// admitted makes the files by which another laptop's practice lets this one in.
func (p place) admitted() {
	p.t.Helper()
	_, errOut, code := p.run("--data", "clinic", "share", "start", "Ridge End Vets", "--key", "ridge.key")
	require.Zero(p.t, code, errOut)
	data, err := os.ReadFile(filepath.Join(p.dir, "asked"))
	require.NoError(p.t, err)
	q, err := roster.ReadRequest(data)
	require.NoError(p.t, err)
	_, errOut, code = p.run("--data", "clinic", "share", "admit", "asked", "--key", "ridge.key", "-o", "truck.answer", "--words", q.Words())
	require.Zero(p.t, code, errOut)
	require.NoError(p.t, os.Rename(filepath.Join(p.dir, "asked"), filepath.Join(p.dir, "truck.request")))
}

func (p place) run(args ...string) (out, errOut string, code int) {
	p.t.Helper()
	file, err := program()
	require.NoError(p.t, err)
	c := exec.Command(file, args...)
	c.Env, c.Dir = p.env, p.dir
	var o, e strings.Builder
	c.Stdout, c.Stderr = &o, &e
	_ = c.Run() // the code says it
	return o.String(), e.String(), c.ProcessState.ExitCode()
}

// shown are the examples that a command's help shows, as a shell takes them.
func (p place) examples(c *cobra.Command) (all [][]string) {
	p.t.Helper()
	help, errOut, code := p.run(append(strings.Fields(c.CommandPath())[1:], "--help")...)
	require.Zero(p.t, code, errOut)
	for _, line := range strings.Split(help, "\n") {
		assert.LessOrEqual(p.t, len([]rune(line)), pageWidth, "%s --help: %s", c.CommandPath(), line)
	}
	_, text, _ := strings.Cut(help, "Examples:\n")
	text, _, _ = strings.Cut(text, "\n\n")
	for _, line := range strings.Split(strings.ReplaceAll(text, "\\\n", ""), "\n") {
		if words := shellWords().FindAllString(line, -1); len(words) > 0 {
			for i, word := range words {
				words[i] = strings.Trim(word, `"`)
			}
			all = append(all, words)
		}
	}
	return all
}

// Every command's help shows an example, in at most 80 columns, and it works as it stands.
func TestEveryExampleOfTheHelpWorks(t *testing.T) {
	t.Parallel()
	p := newPlace(t)
	// In the visits of the invented yard nothing was decided, no tube was filled, no watch runs, and nobody took an exam.
	// Nor is it in a practice, and nobody can be asked whether words are the same.
	p.admitted()
	ends := map[string]int{"loosebox share admit": exitNotFound, "loosebox share out": exitNotFound, "loosebox share hub": exitNotFound, "loosebox share seal": exitNotFound, "loosebox share join": exitUsage, "loosebox take-over": exitUsage, "loosebox inject": exitRefused, "loosebox draw": exitRefused, "loosebox labels": exitNotFound, "loosebox observe": exitNotFound, "loosebox class": exitNotFound}
	known := map[string]bool{}
	for _, c := range commands() {
		known[c.CommandPath()] = true
		list := p.examples(c)
		assert.NotEmpty(t, list, "%s --help shows no example", c.CommandPath())
		for _, words := range list {
			assert.Equal(t, strings.Fields(c.CommandPath()), words[:min(len(words), len(strings.Fields(c.CommandPath())))][:len(strings.Fields(c.CommandPath()))], "the example is of the command")
			p.again()
			out, errOut, code := p.run(words[1:]...)
			assert.Equal(t, ends[c.CommandPath()], code, "%v: %s", words, errOut)
			assertDaysInWords(t, words, out+errOut)
		}
	}
	for path := range examples() {
		assert.True(t, known[path], "there is no command %q", path)
	}
}

// object is the one JSON object of an output.
func object(t *testing.T, out string, what any) (schema string, failure *int) {
	t.Helper()
	d := json.NewDecoder(strings.NewReader(out))
	var o struct {
		Schema string
		Error  *struct {
			Code int
			Text string
		}
	}
	require.NoError(t, d.Decode(&o), "%v: %s", what, out)
	require.ErrorIs(t, d.Decode(&struct{}{}), io.EOF, "%v: more than one object", what)
	assert.True(t, strings.HasPrefix(out, "{\n  \"schema\": "), "%v: the schema comes first", what)
	if o.Error != nil {
		assert.NotEmpty(t, o.Error.Text, what)
		return o.Schema, &o.Error.Code
	}
	return o.Schema, nil
}

// With --json a command prints one object of its schema, whatever comes of it: its
// result, or its error with the exit code.
func TestJSONIsOneObject(t *testing.T) {
	t.Parallel()
	p := newPlace(t)
	n := 0
	for _, c := range commands() {
		if c.Flags().Lookup("json") == nil {
			continue
		}
		n++
		list := p.examples(c)
		require.NotEmpty(t, list)
		for _, words := range list {
			if strings.Contains(strings.Join(words, " "), " --as ") {
				continue
			}
			p.again()
			words = append(words[1:], "--json")
			out, errOut, code := p.run(words...)
			assert.Zero(t, code, "%v: %s", words, errOut)
			schema, failure := object(t, out, words)
			assert.Equal(t, schemaOf(c), schema, words)
			assert.Nil(t, failure, words)
		}
		for _, more := range [][]string{{"--jsno"}, {"one", "word", "too", "many"}, {"--data", filepath.Join(p.dir, "none")}} {
			words := append(append([]string{}, list[0][1:]...), append(more, "--json")...)
			p.again()
			_ = os.RemoveAll(filepath.Join(p.dir, "restored"))
			out, errOut, code := p.run(words...)
			schema, failure := object(t, out, words)
			assert.Equal(t, schemaOf(c), schema, words)
			if code != exitDone {
				require.NotNil(t, failure, words)
				assert.Equal(t, code, *failure, words)
				assert.NotEmpty(t, errOut, words)
			}
		}
	}
	assert.Greater(t, n, 20)
}

// With --json nobody is asked anything, in a terminal either: a command that lacks
// something ends and says so.
func TestJSONAsksNothing(t *testing.T) {
	t.Parallel()
	data := yard(t)
	for _, c := range commands() {
		if c.Flags().Lookup("json") == nil {
			continue
		}
		words := strings.Fields(c.CommandPath())[1:]
		for _, word := range strings.Fields(c.Use)[1:] {
			switch strings.Trim(word, "[]") {
			case "HORSE":
				words = append(words, "Bramble")
			case "VISIT", "REHEARSAL":
				words = append(words, "last")
			case "FILE":
				words = append(words, filepath.Join(t.TempDir(), "file"))
			}
		}
		h := sit(t, data, append(words, "--json")...)
		_, err := h.term.Wait(patience)
		require.NoError(t, err, "%v waits", words)
	}
}
