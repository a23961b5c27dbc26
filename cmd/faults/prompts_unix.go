//go:build unix && !solaris && !aix

package main

import (
	"bufio"
	"io"
	"math/rand/v2"
	"regexp"
	"strings"
	"time"

	"loosebox/exam"
)

// promised is the line by which the prompts say that an answer is stored.
func promised(e exam.Entry) string {
	if e.Value == nil {
		return "Saved as not done: " + exam.Reason(e.Reason).String() + "."
	}
	return "Saved: " + words(e) + "."
}

// tryKillPrompts kills the program at the plain prompts. Every line that said "Saved"
// must be in the record, in its order and with the answer that it named.
func tryKillPrompts(dir string, r rounds) (outcome, error) {
	return killRounds(dir, r, 34, killPrompts, "%d lines said that an answer was stored, all in the record")
}

func killPrompts(p place, rnd *rand.Rand) (stored int, err error) {
	_, lines, err := inRecord(p)
	if err != nil {
		return 0, err
	}
	before := len(answers(lines))
	cmd, said := p.command("exam", "Wren", "--plain", "--by", "Nell Harrow")
	in, err := cmd.StdinPipe()
	if err != nil {
		return 0, err
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		return 0, err
	}
	if err := cmd.Start(); err != nil {
		return 0, err
	}
	stop := 1 + rnd.IntN(6)
	question := regexp.MustCompile(`^\d+ of \d+\. `)
	var told []string
	spoken := bufio.NewScanner(out)
	for spoken.Scan() {
		line := spoken.Text()
		switch {
		case strings.HasPrefix(line, "Saved: "), strings.HasPrefix(line, "Saved as not done: "):
			told = append(told, line)
			stored++
			if stored == stop { // the next answer is on its way
				time.AfterFunc(time.Duration(rnd.IntN(5000))*time.Microsecond, func() { _ = cmd.Process.Kill() })
			}
		case question.MatchString(line):
			_, _ = io.WriteString(in, []string{"usual", "not done refused", "not done unsafe"}[rnd.IntN(3)]+"\n") // fails where it is killed
		}
	}
	_ = cmd.Wait() // killed
	if hasPanic(said.text) || stored < stop {
		return 0, broken("it ended by itself after %d answers: %s", stored, said.text)
	}
	_, lines, err = inRecord(p)
	if err != nil {
		return stored, err
	}
	written := answers(lines)[before:]
	if len(written) < stored {
		return stored, broken("%d answers were called stored, %d are in the record", stored, len(written))
	}
	for i, line := range told { // each in its order, and as it was said
		if !strings.HasPrefix(line, promised(written[i])) {
			return stored, broken("%q was said, and the record has %q", line, words(written[i]))
		}
	}
	return stored, nil
}
