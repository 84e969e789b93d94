package host

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestTail(t *testing.T) {
	long := strings.Repeat("x", 1<<20)
	var stack strings.Builder
	for i := range 50 {
		fmt.Fprintf(&stack, "frame %d\n", i)
	}
	frames := func(from, to int) (lines []string) {
		for i := from; i < to; i++ {
			lines = append(lines, fmt.Sprintf("frame %d", i))
		}
		return lines
	}
	for _, test := range []struct {
		name    string
		written []string
		want    []string
	}{
		{"nothing", nil, nil},
		{"unfinished line", []string{"a\nb"}, []string{"a"}},
		{"in parts", []string{"a", "b\nc", "d\n"}, []string{"ab", "cd"}},
		{"blank lines", []string{"a\n\n \nb\n"}, []string{"a", "b"}},
		{"escapes", []string{"a\x1b[2Jb\r\n\u202ec\n"}, []string{"a[2Jb ", "c"}},
		{"long line", []string{long, long, "\nb\n"}, []string{strings.Repeat("x", tailRunes) + "…", "b"}},
		{"many lines", []string{stack.String()}, frames(50-tailLines, 50)},
		{"crash far above", []string{"panic: no\n", stack.String()}, append([]string{"panic: no", "…"}, frames(50-tailLines, 50)...)},
		{"crash in sight", []string{"a\npanic: no\nb\n"}, []string{"a", "panic: no", "b"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			kept := &tail{}
			w := kept.writer()
			for _, s := range test.written {
				if n, err := w.Write([]byte(s)); n != len(s) || err != nil {
					t.Fatalf("Write = %d, %v", n, err)
				}
			}
			if diff := cmp.Diff(test.want, kept.last()); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}
