package host

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	"bygone.example/core/wire"
)

// Fault says that a plugin broke: it did not start, crashed, gave no answer in
// time or one that does not keep to the contract. It is the plugin author's to
// mend.
type Fault struct {
	Plugin    string
	Operation string // empty when it was no operation's
	Reason    string // lower case, no full stop
	Stderr    []string
	// Err is what the reason was made from; may be nil.
	Err error
}

// Error gives the plugin's name, the reason, and below them the last lines that
// the plugin wrote to standard error.
func (f *Fault) Error() string {
	s := "plugin " + f.Plugin
	if f.Operation != "" {
		s += ", operation " + f.Operation
	}
	s += ": " + f.Reason
	if len(f.Stderr) > 0 {
		s += "\nits last lines on standard error:\n  | " + strings.Join(f.Stderr, "\n  | ")
	}
	return s
}

// Unwrap returns what the reason was made from.
func (f *Fault) Unwrap() error { return f.Err }

// maxMessage of a status is shown, in runes: a few lines.
const maxMessage = 400

// callReason turns what a call ended with into a sentence. Statuses are told
// apart by their codes alone.
func callReason(err error, p *process, limit time.Duration) string {
	if broken, ok := errors.AsType[*wire.Broken](err); ok {
		return "its answer breaks the contract: " + broken.Error()
	}
	if errors.Is(err, context.DeadlineExceeded) {
		return fmt.Sprintf("it gave no answer within %v", limit)
	}
	text := clip(printable(status.Convert(err).Message()), maxMessage)
	switch status.Code(err) {
	case codes.DeadlineExceeded:
		return fmt.Sprintf("it gave no answer within %v", limit)
	case codes.Unavailable, codes.Canceled:
		if end, ended := p.ended(endGrace); ended {
			return "its process ended in the middle of the call (" + end + ")"
		}
		return "it closed the connection"
	case codes.ResourceExhausted:
		return fmt.Sprintf("its answer is larger than the %d MiB a message may have (%s)", wire.MaxMessage>>20, text)
	case codes.Unimplemented:
		return "it does not do what the contract asks of a plugin: " + text
	case codes.NotFound, codes.InvalidArgument:
		return "it would not take the request: " + text
	default:
		return "it broke: " + text
	}
}

// startReason says why a plugin did not come up.
func startReason(p *process, limit time.Duration, late bool, err error) string {
	if p == nil {
		return "it could not be started: " + printable(err.Error())
	}
	if p.strange != "" {
		return p.strange
	}
	line, whole := p.first.line()
	fields := strings.Split(strings.TrimSpace(line), "|")
	version := 0
	handshake := len(fields) >= 5 && fields[0] == "1"
	if handshake {
		if _, err := fmt.Sscanf(fields[1], "%d", &version); err != nil {
			handshake = false
		}
	}
	switch {
	case handshake && version > wire.ProtocolVersion:
		return fmt.Sprintf("it speaks version %d of the plugin contract, this program version %d: update this program, or get an older plugin", version, wire.ProtocolVersion)
	case handshake && version < wire.ProtocolVersion:
		return fmt.Sprintf("it speaks version %d of the plugin contract, this program version %d: get a newer plugin", version, wire.ProtocolVersion)
	case handshake && fields[4] != "grpc":
		return fmt.Sprintf("it speaks %s, not gRPC", printable(fields[4]))
	case line != "" && !handshake && whole:
		return fmt.Sprintf("it wrote %q to standard output before the handshake, which is not allowed there", clip(printable(line), 60))
	case late:
		return fmt.Sprintf("it did not start within %v", limit)
	}
	if end, ended := p.ended(endGrace); ended {
		return "its process ended before it could be spoken to (" + end + ")"
	}
	return "it could not be started: " + printable(err.Error())
}

// printable drops what could move a terminal's cursor or forge a line.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r':
			return ' '
		case r < ' ' || r >= 0x7f && r < 0xa0 || r >= 0x202A && r <= 0x202E || r >= 0x2066 && r <= 0x2069:
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "?"))
}

// clip shortens s to n runes.
func clip(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n]) + "…"
	}
	return s
}
