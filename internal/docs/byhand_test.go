package docs

import (
	"context"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"google.golang.org/grpc"

	pluginv1 "bygone.example/proto/gen/bygone/plugin/v1"

	"bygone.example/core/host"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/core/wire"
	"bygone.example/internal/stock"
	"bygone.example/internal/testtool"
)

// byHand is the argument with which this test binary is a plugin.
const byHand = "plugin-by-hand"

func TestMain(m *testing.M) {
	if len(os.Args) == 2 && os.Args[1] == byHand {
		if err := serveByHand(); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

// serveByHand is a plugin as an author in another language would write it:
// what the page's section on other languages says, and nothing of the SDK's or
// of go-plugin's. It keeps the pattern, and tells its environment.
func serveByHand() error {
	socket := filepath.Join(os.Getenv("PLUGIN_UNIX_SOCKET_DIR"), "plugin.sock")
	listener, err := net.Listen("unix", socket)
	if err != nil {
		return err
	}
	server := grpc.NewServer(grpc.MaxRecvMsgSize(64 << 20))
	pluginv1.RegisterPluginServiceServer(server, handmade{})
	fmt.Printf("1|1|unix|%s|grpc\n", socket)
	return server.Serve(listener)
}

type handmade struct {
	pluginv1.UnimplementedPluginServiceServer
}

// Describe offers one operation.
func (handmade) Describe(context.Context, *pluginv1.DescribeRequest) (*pluginv1.DescribeResponse, error) {
	return wire.EncodeDescription(&operation.Plugin{
		Name: "by-hand", Purpose: "Keeps the pattern.",
		Operations: []*operation.Operation{{Spec: operation.Spec{Name: "keep", Purpose: "Keeps all of it."}}},
	})
}

// Apply keeps the pattern.
func (handmade) Apply(_ context.Context, m *pluginv1.ApplyRequest) (*pluginv1.ApplyResponse, error) {
	_, request, err := wire.DecodeRequest(m)
	if err != nil {
		return nil, err
	}
	var names []string
	for _, pair := range os.Environ() {
		name, _, _ := strings.Cut(pair, "=")
		names = append(names, name)
	}
	return wire.EncodeAnswer(&operation.Answer{
		Pattern: request.Pattern, Lineage: pattern.Same(request.Pattern), Cautions: names,
	})
}

// What the page says of other languages is enough to be served, and the
// environment is the one it names.
func TestOtherLanguages(t *testing.T) {
	if os.PathSeparator != '/' {
		testtool.Skip(t, "the plugin by hand listens on a unix socket")
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	session, err := host.Start(t.Context(), []host.Found{{Name: "by-hand", Path: self, Args: []string{byHand}, Origin: host.File, Taken: true}}, host.Options{StartTimeout: time.Minute})
	if err != nil {
		t.Fatal(err)
	}
	defer session.Close()
	dress, err := stock.Dress()
	if err != nil {
		t.Fatal(err)
	}
	answer, err := session.Apply(t.Context(), "by-hand", "keep", &operation.Request{Pattern: dress})
	if err != nil {
		t.Fatal(err)
	}
	text, _ := page(t)
	for _, name := range answer.Cautions {
		if name != "PWD" && !strings.Contains(text, "`"+name+"`") {
			t.Errorf("the page does not tell of %s in the environment", name)
		}
	}
	for _, name := range []string{"PATH", "LC_ALL", "TZ", wire.CookieKey, "PLUGIN_PROTOCOL_VERSIONS", "PLUGIN_UNIX_SOCKET_DIR", "PLUGIN_MIN_PORT", "PLUGIN_MAX_PORT"} {
		if !slices.Contains(answer.Cautions, name) {
			t.Errorf("the page tells of %s, which is not in the environment %v", name, answer.Cautions)
		}
	}
	began := time.Now()
	session.Close()
	if took := time.Since(began); took > 5*time.Second {
		t.Errorf("it was ended after %v", took)
	}
}
