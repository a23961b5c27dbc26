//go:build unix

package main

import (
	"bytes"
	"compress/flate"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"github.com/fxamacker/cbor/v2"
	"github.com/klauspost/compress/zstd"

	"loosebox/exam"
	"loosebox/exam/signedlog"
	"loosebox/storage"
)

// packedVisits is how many visits are packed in each way.
const packedVisits = 500

// packTable compresses the lines of visits, and snapshots of visits, with each compressor and level; the dictionary is the
// record's own.
func (b *bench) packTable() error {
	lines, folds, err := b.unpacked()
	if err != nil {
		return err
	}
	dict, err := os.ReadFile(filepath.Join(b.root, "exam", "signedlog", "dictionary-1.bin"))
	if err != nil {
		return err
	}
	rows := [][]string{{"way", "lines of a visit", "packed in", "unpacked in", "fold of a visit", "packed in", "unpacked in"}}
	for _, w := range packings(dict) {
		row := []string{w.name}
		for _, texts := range [][][]byte{lines, folds} {
			m, err := w.measure(texts)
			if err != nil {
				return fmt.Errorf("%s: %w", w.name, err)
			}
			row = append(row, fmt.Sprintf("%.2f kB", float64(m.size)/1000), us(m.in)+" µs", us(m.out)+" µs")
		}
		rows = append(rows, row)
	}
	table(fmt.Sprintf("Ways to pack a visit, the mean of %d.", len(lines)), rows)
	return nil
}

// unpacked are the lines and the folds of visits as they are before they are packed.
func (b *bench) unpacked() (lines, folds [][]byte, err error) {
	r, err := storage.Open(b.data, storage.Options{ReadOnly: true})
	if err != nil {
		return nil, nil, err
	}
	defer r.Close() //nolint:errcheck // read only
	found, err := r.Recent(packedVisits)
	if err != nil {
		return nil, nil, err
	}
	records := 0
	for _, v := range found {
		text, err := cbor.Marshal(v)
		if err != nil {
			return nil, nil, err
		}
		folds, records = append(folds, text), v.Entries
	}
	err = r.Segments(context.Background(), func(s signedlog.Segment) error {
		for i := 0; i+records <= len(s.Cores) && len(lines) < len(folds); i += records {
			var text []byte
			for _, c := range s.Cores[i : i+records] {
				text = append(binary.AppendUvarint(text, uint64(len(c))), c...)
			}
			lines = append(lines, text)
		}
		return nil
	})
	return lines, folds, err
}

// packing is one compressor with its level and dictionary.
type packing struct {
	name   string
	pack   func([]byte) ([]byte, error)
	unpack func([]byte) ([]byte, error)
}

func packings(dict []byte) []packing {
	list := []packing{{"not packed", func(b []byte) ([]byte, error) { return b, nil }, func(b []byte) ([]byte, error) { return b, nil }}}
	for _, l := range []zstd.EncoderLevel{zstd.SpeedFastest, zstd.SpeedDefault, zstd.SpeedBetterCompression, zstd.SpeedBestCompression} {
		list = append(list, zstdAt(l, dict))
	}
	list = append(list, zstdAt(zstd.SpeedDefault, nil))
	for _, level := range []int{6, 9} {
		list = append(list, flateAt(level, dict))
	}
	return list
}

func zstdAt(l zstd.EncoderLevel, dict []byte) packing {
	name := fmt.Sprintf("zstd %s, dictionary", l)
	in := []zstd.EOption{zstd.WithEncoderLevel(l), zstd.WithEncoderConcurrency(1), zstd.WithWindowSize(512 << 10), zstd.WithEncoderCRC(false)}
	out := []zstd.DOption{zstd.WithDecoderConcurrency(1)}
	if dict == nil {
		name = fmt.Sprintf("zstd %s", l)
	} else {
		in, out = append(in, zstd.WithEncoderDictRaw(1, dict)), append(out, zstd.WithDecoderDictRaw(1, dict))
	}
	enc, errIn := zstd.NewWriter(nil, in...)
	dec, errOut := zstd.NewReader(nil, out...)
	return packing{
		name,
		func(b []byte) ([]byte, error) {
			if errIn != nil {
				return nil, errIn
			}
			return enc.EncodeAll(b, nil), nil
		},
		func(b []byte) ([]byte, error) {
			if errOut != nil {
				return nil, errOut
			}
			return dec.DecodeAll(b, nil)
		},
	}
}

func flateAt(level int, dict []byte) packing {
	return packing{
		fmt.Sprintf("flate %d, dictionary", level),
		func(b []byte) ([]byte, error) {
			var out bytes.Buffer
			w, err := flate.NewWriterDict(&out, level, dict)
			if err != nil {
				return nil, err
			}
			_, err = w.Write(b)
			err = errors.Join(err, w.Close())
			return out.Bytes(), err
		},
		func(b []byte) ([]byte, error) {
			return io.ReadAll(flate.NewReaderDict(bytes.NewReader(b), dict))
		},
	}
}

// packed is what one packing costs, the mean over the texts: bytes and times.
type packed struct {
	size    int
	in, out time.Duration
}

func (p packing) measure(texts [][]byte) (packed, error) {
	var m packed
	if len(texts) == 0 {
		return m, exam.ErrNotFound
	}
	for _, text := range texts {
		start := time.Now() //nolint:forbidigo // this program measures
		small, err := p.pack(text)
		m.in += time.Since(start)
		if err != nil {
			return m, err
		}
		start = time.Now() //nolint:forbidigo // this program measures
		back, err := p.unpack(small)
		m.out += time.Since(start)
		if err != nil || !bytes.Equal(back, text) {
			return m, fmt.Errorf("it does not come back: %w", err)
		}
		m.size += len(small)
	}
	n := len(texts)
	return packed{m.size / n, m.in / time.Duration(n), m.out / time.Duration(n)}, nil
}
