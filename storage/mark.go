package storage

import (
	"bytes"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"loosebox/exam/signedlog"
	"loosebox/storage/outside"
)

// CountName is the file that remembers how many records this machine's logs have. With it a record
// that was replaced by an older copy is recognised. In the record's own folder it has this name; in
// a folder apart (Options.KeyDir), which may serve several records, the record's number is added.
const CountName = "machine.count"

// countFile is where the marks of a record are.
func (r *Record) countFile() (dir, name string, err error) {
	dir = filepath.Dir(r.path)
	if r.keys == dir {
		return dir, CountName, nil
	}
	var which []byte
	err = r.view(func(tx txn) error {
		which, err = getRow(tx, bucketMeta, []byte(rowRecord))
		which = bytes.Clone(which)
		if err == nil && len(which) != 16 {
			err = damaged("the record has no number of its own")
		}
		return err
	})
	if err != nil {
		return "", "", err
	}
	return r.keys, CountName + "." + id(which).String(), nil
}

const markHead = "loosebox machine count 2"

// mark is how far a log had come.
type mark struct {
	log  signedlog.ID
	n    uint64
	last signedlog.Digest
}

// readMarks reads the file; none where there is none, or where it was cut by a power
// failure.
func readMarks(dir, name string) ([]mark, error) {
	data, err := outside.ReadFile(filepath.Join(dir, name), 64<<10)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("read how far this machine's lines had come: %w", err)
	}
	text, ok := strings.CutPrefix(string(data), markHead+"\n")
	if !ok || !strings.HasSuffix(text, "\n") {
		return nil, nil
	}
	var out []mark
	for l := range strings.Lines(text) {
		var m mark
		var name, last string
		if _, err := fmt.Sscanf(l, "%s %d %s", &name, &m.n, &last); err != nil {
			return nil, nil
		}
		id, err1 := hex.DecodeString(name)
		digest, err2 := signedlog.ParseDigest(last)
		if err1 != nil || err2 != nil || len(id) != len(m.log) {
			return nil, nil
		}
		m.log, m.last = signedlog.ID(id), digest
		out = append(out, m)
	}
	return out, nil
}

func writeMarks(dir, name string, marks []mark) error {
	text := markHead + "\n"
	for _, m := range marks {
		text += fmt.Sprintf("%s %d %s\n", m.log, m.n, m.last)
	}
	temp, err := writeTemp(dir, name, []byte(text), true)
	if err != nil {
		return err
	}
	if err := os.Rename(temp, filepath.Join(dir, name)); err != nil {
		_ = os.Remove(temp)
		return err
	}
	return nil
}

// compareMarks notes in the record what the file beside it says is missing, and ends
// the logs that are shorter than they were: this machine goes on in new ones.
func (r *Record) compareMarks() error {
	dir, name, err := r.countFile()
	if err != nil {
		return err
	}
	marks, err := readMarks(dir, name)
	if err != nil || len(marks) == 0 {
		return err
	}
	var gaps []Gap
	var doubt []signedlog.ID
	err = r.view(func(tx txn) error {
		for _, m := range marks {
			gap, err := m.missing(tx)
			if err != nil {
				return err
			}
			if gap != nil {
				gaps, doubt = append(gaps, *gap), append(doubt, m.log)
			}
		}
		return nil
	})
	if err != nil || len(gaps) == 0 {
		return err
	}
	return r.update(func(tx txn) error {
		for _, name := range doubt {
			log, err := readLog(tx, name)
			if err != nil {
				return err
			}
			if log == nil || log.Doubt {
				continue
			}
			log.Doubt = true
			if err := log.write(tx); err != nil {
				return err
			}
		}
		known, err := readGaps(tx)
		if err != nil {
			return err
		}
		for _, g := range gaps {
			if !slices.Contains(known, g) {
				known, r.found = append(known, g), append(r.found, g)
			}
		}
		data, err := json.Marshal(known)
		if err != nil {
			return fmt.Errorf("write what is missing: %w", err)
		}
		return putRow(tx, bucketMeta, []byte(rowGaps), data)
	})
}

// remember writes how far this machine's logs have come; it is no loss where that
// fails, and the next close does it.
func (r *Record) remember() {
	if r.readOnly || r.machine == nil || r.stuck.Load() {
		return
	}
	var marks []mark
	lines := uint64(0)
	err := r.view(func(tx txn) error {
		for _, b := range namespaces() {
			log, err := currentLog(tx.in(b))
			if err != nil {
				return err
			}
			if log != nil && log.N > 0 && !log.Doubt && bytes.Equal(log.Public, r.machine.public()) {
				marks = append(marks, mark{log.name, log.N, log.last()})
				lines += log.N
			}
		}
		return nil
	})
	if err != nil || len(marks) == 0 || lines == r.remembered {
		return
	}
	dir, name, err := r.countFile()
	if err != nil {
		return
	}
	before, err := readMarks(dir, name)
	if err != nil {
		return
	}
	for i, m := range marks { // what was known to be there stays known
		for _, b := range before {
			if b.log == m.log && b.n > m.n {
				marks[i] = b
			}
		}
	}
	if writeMarks(dir, name, marks) == nil {
		r.remembered = lines
	}
}
