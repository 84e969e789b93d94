package serve_test

import (
	"bytes"
	"context"
	"regexp"
	"strings"
	"testing"

	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	"bygone.example/core/operation"
	"bygone.example/core/wire"
	"bygone.example/internal/stock"
	"bygone.example/sdk/internal/serve"
)

// apply runs an operation that does f, and returns what it wrote to standard
// error.
func apply(t *testing.T, f func() (*operation.Answer, error)) (stderr string, err error) {
	t.Helper()
	p := &operation.Plugin{Name: "tries", Operations: []*operation.Operation{{
		Spec:  operation.Spec{Name: "run"},
		Apply: func(context.Context, *operation.Request) (*operation.Answer, error) { return f() },
	}}}
	dress, err := stock.Dress()
	if err != nil {
		t.Fatal(err)
	}
	request, err := wire.EncodeRequest("run", &operation.Request{Pattern: dress})
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	_, err = serve.New(p, &b).Apply(t.Context(), request)
	return b.String(), err
}

func deep(n int, m map[string]int) {
	if n > 0 {
		deep(n-1, m)
		return
	}
	m["x"] = 1
}

// The author sees where it panicked, and nothing of what called it.
func TestPanic(t *testing.T) {
	for _, depth := range []int{0, 30} {
		stderr, err := apply(t, func() (*operation.Answer, error) { deep(depth, nil); return nil, nil })
		if status.Code(err) != codes.Internal || !strings.Contains(err.Error(), "panic: assignment to entry in nil map") {
			t.Errorf("error is %v", err)
		}
		lines := strings.Split(strings.TrimSpace(stderr), "\n")
		if len(lines) > 11 || len(lines) < 3 {
			t.Errorf("%d lines on standard error, want 3 to 11:\n%s", len(lines), stderr)
		}
		if want := regexp.MustCompile(`^at .*serve_test\.deep \(.*serve_test\.go:\d+\)$`); !want.MatchString(lines[0]) {
			t.Errorf("first line is %q, want the place of the panic", lines[0])
		}
		if got := lines[len(lines)-1]; got != "panic in plugin tries, operation run: assignment to entry in nil map" {
			t.Errorf("last line is %q", got)
		}
		if strings.Contains(stderr, "grpc") || strings.Contains(stderr, "runtime.") {
			t.Errorf("standard error tells of others' code:\n%s", stderr)
		}
	}
}

func TestNoLineage(t *testing.T) {
	dress, err := stock.Dress()
	if err != nil {
		t.Fatal(err)
	}
	_, err = apply(t, func() (*operation.Answer, error) { return &operation.Answer{Pattern: dress}, nil })
	if err == nil || !strings.Contains(err.Error(), "the answer has no lineage") {
		t.Errorf("error is %v", err)
	}
}
