package storage

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"path/filepath"
	"sync"
	"time"
)

// holdFor is how long a copy may take.
const holdFor = 10 * time.Minute

// mostReaders is how many copies are made at once.
const mostReaders = 8

// host answers those who want to read.
type host struct {
	listener net.Listener
	word     []byte
	name     string // of the file that says where
	places   chan struct{}
	mu       sync.Mutex
	over     bool
	conns    map[net.Conn]bool
	done     sync.WaitGroup
}

// Host lets other runs of this user read the record as it is (Options.Beside) until it is
// closed. Without it they wait for the file and are told that it is in use.
func (r *Record) Host() error {
	if r.readOnly || r.host != nil {
		return nil
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return fmt.Errorf("other commands cannot read the record while it is open: %w", err)
	}
	var word [32]byte
	if _, err := rand.Read(word[:]); err != nil {
		return errors.Join(fmt.Errorf("other commands cannot read the record while it is open: %w", err), l.Close())
	}
	h := &host{
		listener: l, word: []byte(hex.EncodeToString(word[:])), name: filepath.Join(filepath.Dir(r.path), OpenName),
		places: make(chan struct{}, mostReaders), conns: map[net.Conn]bool{},
	}
	data, err := json.Marshal(openAt{l.Addr().String(), string(h.word)})
	var temp string
	if err == nil {
		temp, err = writeTemp(filepath.Dir(r.path), OpenName, data, false) // it says nothing once this run is over
	}
	if err == nil {
		err = os.Rename(temp, h.name)
	}
	if err != nil {
		return errors.Join(fmt.Errorf("other commands cannot read the record while it is open: %w", err), l.Close())
	}
	r.host = h
	h.done.Add(1)
	go h.serve(r)
	return nil
}

func (h *host) serve(r *Record) {
	defer h.done.Done()
	for {
		conn, err := h.listener.Accept()
		if err != nil {
			return // closed
		}
		if !h.begin(conn) {
			_ = conn.Close() // too many, or the record is being closed
			continue
		}
		go func() {
			defer h.end(conn)
			_ = h.hold(r, conn) // who asked knows by the end of the line
		}()
	}
}

func (h *host) begin(conn net.Conn) bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	select {
	case h.places <- struct{}{}:
	default:
		return false
	}
	if h.over {
		<-h.places
		return false
	}
	h.conns[conn] = true
	h.done.Add(1)
	return true
}

func (h *host) end(conn net.Conn) {
	_ = conn.Close()
	h.mu.Lock()
	delete(h.conns, conn)
	h.mu.Unlock()
	<-h.places
	h.done.Done()
}

// hold keeps a read transaction open for one reader: it sends the first pages and the length of the
// file at that moment, waits until the file was copied, and confirms that the transaction lasted.
func (h *host) hold(r *Record, conn net.Conn) error {
	defer time.AfterFunc(holdFor, func() { _ = conn.Close() }).Stop()
	word := make([]byte, len(h.word))
	if _, err := io.ReadFull(conn, word); err != nil || subtle.ConstantTimeCompare(word, h.word) != 1 {
		return errors.Join(err, errNotMine)
	}
	return r.view(func(tx txn) error {
		head := beginning{most: 2 * r.db.Info().PageSize}
		if _, err := tx.WriteTo(&head); err != nil && len(head.data) != head.most {
			return fmt.Errorf("copy the record: %w", err)
		}
		answer := binary.BigEndian.AppendUint64(nil, uint64(tx.Size()))
		answer = binary.BigEndian.AppendUint32(answer, uint32(len(head.data)))
		if _, err := conn.Write(append(answer, head.data...)); err != nil {
			return err
		}
		if _, err := io.ReadFull(conn, make([]byte, 1)); err != nil {
			return err
		}
		_, err := conn.Write([]byte{1})
		return err
	})
}

var errNotMine = errors.New("somebody without the word asked")

// beginning takes the first pages that are written to it and refuses the rest.
type beginning struct {
	data []byte
	most int
}

func (b *beginning) Write(p []byte) (int, error) {
	if len(b.data)+len(p) > b.most {
		return 0, errEnough
	}
	b.data = append(b.data, p...)
	return len(p), nil
}

// close ends every reader's moment and stops answering.
func (h *host) close() {
	h.mu.Lock()
	h.over = true
	for conn := range h.conns {
		_ = conn.Close()
	}
	h.mu.Unlock()
	_ = h.listener.Close()
	_ = os.Remove(h.name) // the next run writes its own
	h.done.Wait()
}
