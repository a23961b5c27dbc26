package hub

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"time"

	"github.com/nats-io/nats.go"
)

// Bounds of one trip.
const (
	batchMessages = 200
	batchBytes    = 4 << 20
)

// errNone says that the stream has no such message, nor any behind it.
var errNone = errors.New("the hub has no such message")

// getRequest is the question of a direct get (NATS ADR-31).
type getRequest struct {
	Seq      uint64 `json:"seq"`
	Batch    int    `json:"batch"`
	MaxBytes int    `json:"max_bytes,omitempty"`
}

// get reads messages from a sequence on; more says whether others are behind them.
func (h *Connection) get(ctx context.Context, stream string, from uint64, most int) (list []message, more bool, err error) {
	question, err := json.Marshal(getRequest{from, most, batchBytes})
	if err != nil {
		return nil, false, err
	}
	h.asked++
	reply := h.inbox + "." + strconv.Itoa(h.asked)
	if err := h.nc.PublishRequest("$JS.API.DIRECT.GET."+stream, reply, question); err != nil {
		return nil, false, h.explain(err)
	}
	for {
		m, err := h.next(ctx)
		if err != nil {
			return nil, false, err
		}
		if m.Subject != reply {
			continue // of a question that was given up
		}
		switch status := m.Header.Get("Status"); status {
		case "":
		case "204": // the end of the batch
			pending, _ := strconv.ParseUint(m.Header.Get("Nats-Num-Pending"), 10, 64)
			return list, pending > 0, nil
		case "404":
			return nil, false, errNone
		default:
			return nil, false, fmt.Errorf("%w: it answers %s %s", ErrAway, status, m.Header.Get("Description"))
		}
		seq, err := strconv.ParseUint(m.Header.Get("Nats-Sequence"), 10, 64)
		if err != nil {
			return nil, false, fmt.Errorf("%w: its answer has no sequence", ErrAway)
		}
		list = append(list, message{seq: seq, subject: m.Header.Get("Nats-Subject"), at: m.Header.Get("Nats-Time-Stamp"), data: m.Data})
	}
}

func (h *Connection) next(ctx context.Context) (*nats.Msg, error) {
	wait, stop := context.WithTimeout(ctx, replyTime)
	defer stop()
	m, err := h.replies.NextMsgWithContext(wait)
	switch {
	case err == nil:
		return m, nil
	case ctx.Err() != nil:
		return nil, brokenOff(ctx)
	default:
		return nil, h.explain(err)
	}
}

func brokenOff(ctx context.Context) error {
	return fmt.Errorf("the exchange was broken off; the next one goes on: %w", context.Cause(ctx))
}

// receipt is what the stream says of a message that was published.
type receipt struct {
	Seq       uint64 `json:"seq"`
	Duplicate bool   `json:"duplicate"`
	Error     *struct {
		Code        int    `json:"err_code"`
		Description string `json:"description"`
	} `json:"error"`
}

// Error codes of the stream (nats-server, server/errors.json).
const (
	codeWrongLast      = 10071 // the expectation about the last message of the subject is wrong
	codeWrongLastValue = 10164 // the same without the last value
	codeTooBig         = 10054
	codeFull           = 10077
)

// errExpected says that the subject has other messages than were expected: reading on
// tells which.
var errExpected = errors.New("the hub has more of this log than was read")

// publish sends a message and waits until the hub has it on its disk.
func (h *Connection) publish(ctx context.Context, m *nats.Msg) (receipt, error) {
	wait, stop := context.WithTimeout(ctx, replyTime)
	defer stop()
	back, err := h.nc.RequestMsgWithContext(wait, m)
	switch {
	case ctx.Err() != nil:
		return receipt{}, brokenOff(ctx)
	case err != nil:
		return receipt{}, h.explain(err)
	}
	var r receipt
	if err := json.Unmarshal(back.Data, &r); err != nil {
		return r, fmt.Errorf("%w: its answer cannot be read (%w)", ErrAway, err)
	}
	if r.Error == nil {
		return r, nil
	}
	switch r.Error.Code {
	case codeWrongLast, codeWrongLastValue:
		return r, errExpected
	case codeFull:
		return r, fmt.Errorf("the hub is full, and what waits is kept here. Whoever runs the hub must give it more room (%s)", r.Error.Description)
	case codeTooBig:
		return r, fmt.Errorf("the hub takes no message as long as this one, and it is kept here. Whoever runs the hub must raise its limit (%s)", r.Error.Description)
	default:
		return r, fmt.Errorf("the hub takes nothing now, and what waits is kept here (%d, %s)", r.Error.Code, r.Error.Description)
	}
}

// pause waits, or until the context ends.
func pause(ctx context.Context, d time.Duration) {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
	case <-ctx.Done():
	}
}
