package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"time"
)

// fuzzer is one fuzzing function of a package.
type fuzzer struct{ pkg, name string }

// fuzzers lists all fuzzers of the module.
func fuzzers() (all []fuzzer, err error) {
	out, err := exec.Command("go", "list", "-f", `{{$p := .ImportPath}}{{range .TestGoFiles}}{{$p}} {{$.Dir}}/{{.}}{{"\n"}}{{end}}{{range .XTestGoFiles}}{{$p}} {{$.Dir}}/{{.}}{{"\n"}}{{end}}`, "loosebox/...").Output()
	if err != nil {
		return nil, fmt.Errorf("find the fuzzers: %w", err)
	}
	declared := regexp.MustCompile(`(?m)^func (Fuzz\w+)\(`)
	for _, line := range strings.Split(string(out), "\n") {
		pkg, file, ok := strings.Cut(line, " ")
		if !ok {
			continue
		}
		source, err := os.ReadFile(file)
		if err != nil {
			return nil, err
		}
		for _, m := range declared.FindAllSubmatch(source, -1) {
			all = append(all, fuzzer{pkg, string(m[1])})
		}
	}
	return all, nil
}

// fuzzAll runs every fuzzer, one after the other, for total divided among them, and prints what each tried. The error names
// those that found an input that fails; go test keeps that input in the package's testdata.
func fuzzAll(w io.Writer, total time.Duration, only string) error {
	all, err := fuzzers()
	all = slices.DeleteFunc(all, func(f fuzzer) bool { return !strings.Contains(f.pkg+" "+f.name, only) })
	if err != nil || len(all) == 0 {
		return err
	}
	each := max(total/time.Duration(len(all)), time.Second).Round(time.Second)
	_, _ = fmt.Fprintf(w, "| fuzzer | time | inputs tried | new ways found |\n|---|---|---|---|\n")
	var found []string
	for _, f := range all {
		tried, ways, err := f.run(each)
		_, _ = fmt.Fprintf(w, "| %s %s | %s | %s | %s |\n", strings.TrimPrefix(f.pkg, "loosebox/"), f.name, each, tried, ways)
		if err != nil {
			found = append(found, err.Error())
		}
	}
	_, _ = fmt.Fprintf(w, "\n%d fuzzers, %s each, %s in all, -fuzzminimizetime=20x.\n", len(all), each, each*time.Duration(len(all)))
	if len(found) > 0 {
		return fmt.Errorf("%s", strings.Join(slices.Compact(found), "\n"))
	}
	return nil
}

// run fuzzes for a time. Tried and ways are the inputs and the new coverage, from the last line of its progress.
func (f fuzzer) run(long time.Duration) (tried, ways string, err error) {
	cmd := exec.Command("go", "test", "-run=^$", "-fuzz=^"+f.name+"$", "-fuzztime="+long.String(), "-fuzzminimizetime=20x", f.pkg)
	out, err := cmd.CombinedOutput()
	tried, ways = "none", "0"
	progress := regexp.MustCompile(`execs: (\d+) .*new interesting: (\d+)`)
	for _, m := range progress.FindAllSubmatch(out, -1) {
		tried, ways = string(m[1]), string(m[2])
	}
	// go test also fails when the time ends while an input runs; no input has failed then.
	ended := bytes.Contains(out, []byte("context deadline exceeded")) && !bytes.Contains(out, []byte("Failing input"))
	if err != nil && !ended {
		return tried, ways, fmt.Errorf("%s %s: %w\n%s", f.pkg, f.name, err, out)
	}
	return tried, ways, nil
}
