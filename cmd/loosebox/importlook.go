package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/intake"
	"loosebox/exam/notation"
	"loosebox/tui/nav"
)

// look reads a sheet and proposes what it means.
func (e *env) look(file string, f importFlags) (*intake.Proposal, error) {
	how, err := f.how(intake.How{})
	if err != nil {
		return nil, err
	}
	var p *intake.Proposal
	now := e.now()
	err = e.withInput(file, func(in io.Reader, name string) (err error) {
		p, err = intake.Look(in, name, how, e.steps, now)
		return err
	})
	return p, err
}

// proposeMap prints the map that a sheet is proposed; questions that are open are said.
func (e *env) proposeMap(file string, f importFlags) error {
	p, err := e.look(file, f)
	if err != nil {
		return err
	}
	if p.Asks() {
		e.say("Some things only you can say. Each stands in the map as a line that begins with ASK.")
	}
	if f.asJSON {
		return e.printJSON(struct {
			Schema string `json:"schema"`
			Map    string `json:"map"` // YAML, as --map takes it
		}{"loosebox/import/1", string(p.YAML())})
	}
	return e.printf("%s", p.YAML())
}

// importWithoutMap reads an export, or looks at a spreadsheet and asks about its columns in the terminal.
func (e *env) importWithoutMap(ctx context.Context, file string, f importFlags) error {
	isFHIR, err := e.isFHIR(file)
	if err != nil {
		return err
	}
	if isFHIR {
		return e.importFHIR(ctx, file, f)
	}
	if file == "-" || e.isExport(file) {
		if f.dryRun || f.strict || f.rest != "" {
			return usage("--dry-run, --strict and --rest belong to a spreadsheet: --map names the file that says what its columns mean")
		}
		return e.importExport(ctx, file, f)
	}
	if !e.lineByLine() {
		if err := e.askDoubts(file, &f); err != nil {
			return err
		}
	}
	p, err := e.look(file, f)
	if err != nil {
		return err
	}
	if !e.lineByLine() {
		return e.confirmMap(ctx, file, p, f)
	}
	return fmt.Errorf("this is a spreadsheet of %d rows and %d columns. loosebox import %q --propose prints a map. Read it, then import with --map", p.Rows, len(p.Columns), notation.CleanLine(file, 0))
}

// askDoubts asks in the terminal which character set or which sheet it is, where the file does not say it.
func (e *env) askDoubts(file string, f *importFlags) error {
	var charsets, sheets []intake.Option
	err := e.withInput(file, func(in io.Reader, _ string) (err error) {
		charsets, sheets, err = intake.Doubts(in)
		return err
	})
	if err != nil {
		return err
	}
	if f.charset == "" && len(charsets) > 0 {
		f.charset, err = e.oneOf("The letters of the file can be read in several ways. Which is right?", charsets)
	}
	if f.sheet == "" && len(sheets) > 0 {
		f.sheet, err = e.oneOf("The file has several sheets. Which one?", sheets)
	}
	return err
}

// oneOf asks for one of a few answers by its number.
func (e *env) oneOf(question string, options []intake.Option) (string, error) {
	e.say(question)
	for i, o := range options {
		e.say(fmt.Sprintf("  %d  %s", i+1, o.Words))
	}
	_, _ = fmt.Fprintf(e.errOut, "1 to %d: ", len(options)) // nobody reads it: no answer
	line, err := bufio.NewReader(e.typed()).ReadString('\n')
	n, bad := strconv.Atoi(strings.TrimSpace(line))
	if err != nil || bad != nil || n < 1 || n > len(options) {
		return "", usage("nothing was chosen, and nothing was imported")
	}
	return options[n-1].Value, nil
}

// isExport says that a file begins as loosebox export or another program's JSON does; what it is then says who reads it.
func (e *env) isExport(file string) bool {
	is := false
	_ = e.withInput(file, func(in io.Reader, _ string) error { // what is wrong is said by who reads it
		begin, _ := io.ReadAll(io.LimitReader(in, 4<<10))
		begin = bytes.TrimLeft(bytes.TrimPrefix(begin, []byte("\xef\xbb\xbf")), " \t\r\n")
		line, _, _ := bytes.Cut(begin, []byte("\n"))
		is = len(begin) == 0 || begin[0] == '{' || bytes.HasPrefix(line, []byte("line,horse,horse name,visit,"))
		return nil
	})
	return is
}

// confirmMap asks about each column in the terminal, writes the map beside the sheet, and imports by it.
func (e *env) confirmMap(ctx context.Context, file string, p *intake.Proposal, f importFlags) error {
	who, err := e.taker(f.by)
	if err != nil {
		return err
	}
	plan := &nav.SheetPlan{Proposal: p, Taker: who}
	d := &nav.Deps{Desk: e.desk(nil), Ranges: e.ranges, Now: e.now, Theme: e.theme(exam.Settings{}), Bell: e.bell()}
	if err := e.screens(d, nav.Address{Screen: nav.Sheet, Sheet: plan}); err != nil {
		return err
	}
	if !plan.Done {
		return e.printf("Nothing was imported. loosebox import %q begins again.\n", notation.CleanLine(file, 0))
	}
	f.by = plan.Taker
	m, err := p.Map()
	if err != nil {
		return err
	}
	name, err := saveNew(strings.TrimSuffix(file, filepath.Ext(file)), ".map.yaml", func(w io.Writer) error {
		_, err := io.WriteString(w, p.YAML())
		return err
	})
	if err != nil {
		return fmt.Errorf("the map cannot be written, so nothing was imported: %w", err)
	}
	e.say(fmt.Sprintf("The map is in %s. Import the sheet again by it: --map %s", name, name))
	return e.importMapped(ctx, file, m, f)
}

// saveNew writes a file that is not there yet: name and end, or with a number between.
func saveNew(name, end string, write func(io.Writer) error) (string, error) {
	for n := 1; ; n++ {
		full := name + end
		if n > 1 {
			full = fmt.Sprintf("%s-%d%s", name, n, end)
		}
		out, err := os.OpenFile(full, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
		switch {
		case errors.Is(err, fs.ErrExist) && n < 1000:
			continue
		case err != nil:
			return "", err
		}
		return full, errors.Join(write(out), out.Close())
	}
}
