package wire

import (
	"context"
	"fmt"

	"google.golang.org/grpc"
	"google.golang.org/grpc/encoding"
	encodingproto "google.golang.org/grpc/encoding/proto"
	"google.golang.org/grpc/mem"
	"google.golang.org/protobuf/encoding/protowire"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pluginv1 "bygone.example/proto/gen/bygone/plugin/v1"

	"bygone.example/core/operation"
)

// What both ends of the line agree on before the first call.
const (
	// ProtocolVersion is the major version of the plugin contract, in the
	// handshake and in the protobuf package name alike.
	ProtocolVersion = 1
	// CookieKey and CookieValue let a plugin that is started by hand say so
	// kindly. They are no secret and no protection.
	CookieKey   = "BYGONE_PLUGIN"
	CookieValue = "a step of the chain, not a program of its own"
	// ServiceName is the one service go-plugin is asked to dispense.
	ServiceName = "bygone"
)

// Client makes the calls of the contract over a connection and holds the
// answers to the bounds of this package. An error is a *operation.Refusal, a
// *Broken, a gRPC status, or plain where the request could not be sent
// (Unsendable).
type Client struct{ stub pluginv1.PluginServiceClient }

// NewClient returns a client over conn, which stays the caller's to close.
func NewClient(conn grpc.ClientConnInterface) *Client {
	return &Client{pluginv1.NewPluginServiceClient(conn)}
}

// Unsendable says that a request could not be put in a message. The plugin was
// not called.
type Unsendable struct{ Err error }

// Error says that nothing was sent, and why.
func (u *Unsendable) Error() string { return "cannot be sent to a plugin: " + u.Err.Error() }

// Unwrap returns the reason.
func (u *Unsendable) Unwrap() error { return u.Err }

// call makes one call with the limits on both ways.
func call[Q, A any](ctx context.Context, method func(context.Context, Q, ...grpc.CallOption) (A, error), request Q) (A, error) {
	codec := &cautious{}
	answer, err := method(ctx, request,
		grpc.MaxCallRecvMsgSize(MaxMessage), grpc.MaxCallSendMsgSize(MaxMessage), grpc.ForceCodecV2(codec))
	if codec.refused != nil { // gRPC has turned it into text
		err = &Broken{Message: "answer", Faults: []string{codec.refused.Error()}}
	}
	return answer, err
}

// Describe asks the plugin what it offers.
func (c *Client) Describe(ctx context.Context) (Description, error) {
	m, err := call(ctx, c.stub.Describe, &pluginv1.DescribeRequest{})
	if err != nil {
		return Description{}, err
	}
	return DecodeDescription(m)
}

// Apply runs an operation.
func (c *Client) Apply(ctx context.Context, op string, q *operation.Request) (*operation.Answer, error) {
	request, err := EncodeRequest(op, q)
	if err != nil {
		return nil, &Unsendable{err}
	}
	if _, _, err := DecodeRequest(request); err != nil { // or the plugin would refuse it, and be blamed
		return nil, &Unsendable{err}
	}
	if n := proto.Size(request); n > MaxMessage {
		return nil, &Unsendable{fmt.Errorf("the pattern takes %d bytes, more than %d", n, MaxMessage)}
	}
	m, err := call(ctx, c.stub.Apply, request)
	if err != nil {
		return nil, err
	}
	return DecodeAnswer(m)
}

// Survey asks for tells.
func (c *Client) Survey(ctx context.Context, q *operation.SurveyRequest) ([]operation.Tell, error) {
	request, err := EncodeSurvey(q)
	if err != nil {
		return nil, &Unsendable{err}
	}
	if _, err := DecodeSurvey(request); err != nil {
		return nil, &Unsendable{err}
	}
	m, err := call(ctx, c.stub.Survey, request)
	if err != nil {
		return nil, err
	}
	return DecodeTells(m)
}

// cautious is gRPC's own protobuf codec with a look at a message before it is
// unpacked. It serves one call.
type cautious struct{ refused error }

var _ encoding.CodecV2 = (*cautious)(nil)

// Name returns the name of the codec underneath: the bytes are the same.
func (*cautious) Name() string { return encodingproto.Name }

// Marshal packs as gRPC does.
func (*cautious) Marshal(v any) (mem.BufferSlice, error) {
	return encoding.GetCodecV2(encodingproto.Name).Marshal(v)
}

// Unmarshal unpacks as gRPC does, unless there is too much inside.
func (c *cautious) Unmarshal(data mem.BufferSlice, v any) error {
	m, ok := v.(proto.Message)
	if !ok {
		return fmt.Errorf("%T is no message", v)
	}
	b := data.MaterializeToBuffer(mem.DefaultBufferPool())
	defer b.Free()
	left := MaxParts
	if c.refused = countParts(m.ProtoReflect().Descriptor(), b.ReadOnlyData(), &left); c.refused != nil {
		return c.refused
	}
	return proto.Unmarshal(b.ReadOnlyData(), m)
}

var errTooManyParts = fmt.Errorf("message holds more than %d messages and texts", MaxParts)

// countParts takes the messages and texts inside b off left. Recursion is as
// deep as the contract, which has no message inside itself.
func countParts(md protoreflect.MessageDescriptor, b []byte, left *int) error {
	fields := md.Fields()
	for len(b) > 0 {
		number, wireType, n := protowire.ConsumeTag(b)
		if n < 0 {
			return protowire.ParseError(n)
		}
		b = b[n:]
		if wireType != protowire.BytesType {
			if n = protowire.ConsumeFieldValue(number, wireType, b); n < 0 {
				return protowire.ParseError(n)
			}
			b = b[n:]
			continue
		}
		value, n := protowire.ConsumeBytes(b)
		if n < 0 {
			return protowire.ParseError(n)
		}
		b = b[n:]
		if *left--; *left < 0 {
			return errTooManyParts
		}
		if f := fields.ByNumber(number); f != nil && f.Kind() == protoreflect.MessageKind {
			if err := countParts(f.Message(), value, left); err != nil {
				return err
			}
		}
	}
	return nil
}
