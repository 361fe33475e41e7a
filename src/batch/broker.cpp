// SPDX-License-Identifier: Apache-2.0
#include "broker.h"

#include <fmt/format.h>
#include <nats/nats.h>

#include <algorithm>
#include <array>
#include <map>
#include <thread>

#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "nats_functions.h"
#include "nats_options.h"

namespace loamway {

namespace {

using Clock = std::chrono::steady_clock;
using std::chrono::milliseconds;

constexpr const char* stream_name = "LOAMWAY_MOVES";
constexpr std::string_view subject_root = "loamway.moves.";
constexpr std::int64_t most_waiting = 10000;                  // moves in the queue at once
constexpr std::int64_t most_bytes = std::int64_t{256} << 20;  // of all of them
constexpr std::int64_t second = 1'000'000'000;                // the library counts nanoseconds
constexpr std::int64_t ids_remembered = 600 * second;
constexpr std::int64_t consumer_kept = std::int64_t{72} * 3600 * second;
constexpr std::int64_t request_ms = 5000;
constexpr milliseconds between_tries{200};
constexpr std::size_t digest_size = 32;

std::string subject_of(const ShelfKey& shelf) {
    return fmt::format("{}{}.{}", subject_root, shelf.region, shelf.local);
}

std::string consumer_of(const ShelfKey& shelf) {
    return fmt::format("{}-{}", shelf.region, shelf.local);
}

/// Of a subject; nothing for one that is not ours.
std::optional<ShelfKey> shelf_of(std::string_view subject) {
    if (subject.size() != subject_root.size() + 2 * digest_size + 1 || !subject.starts_with(subject_root))
        return std::nullopt;
    subject.remove_prefix(subject_root.size());
    ShelfKey out{std::string(subject.substr(0, digest_size)), std::string(subject.substr(digest_size + 1))};
    return is_digest(out.region) && is_digest(out.local) ? std::optional(std::move(out)) : std::nullopt;
}

bool says_full(natsStatus s, jsErrCode code) {
    return code == JSStreamStoreFailedErr && nats_words(s).find("maximum") != std::string::npos;
}

struct Listening {
    Duration sign_of_life;
    natsSubscription* subscription = nullptr;
};

}  // namespace

struct Broker::Connection {
    Connection(const QueueAddress& address, Duration patience)
        : shown(shown_queue(address.url)), patience_s(patience.seconds()) {
        open(address);
        try {
            persist("has no place for moves", [this] { return make_stream(); });
        } catch (...) {
            close();
            throw;
        }
    }
    ~Connection() { close(); }
    Connection(const Connection&) = delete;
    Connection& operator=(const Connection&) = delete;

    std::string shown;
    double patience_s;
    natsConnection* connection = nullptr;
    jsCtx* stream = nullptr;
    std::map<ShelfKey, Listening> listening;
    Clock::time_point contact = Clock::now();
    Clock::time_point mended{};

    [[nodiscard]] Error away(const std::string& what) const {
        return {ErrorKind::io, fmt::format("the queue {} {}", shown, what),
                "look whether the broker runs, with JetStream, and the address is right"};
    }

    /// Tries until it works or patience ends; an Error in `work` ends it at once.
    template <class Work>
    void persist(const std::string& failing, Work&& work) {
        const Clock::time_point begin = Clock::now();
        for (;;) {
            const natsStatus s = work();
            if (s == NATS_OK) {
                contact = Clock::now();
                return;
            }
            const std::string words = nats_words(s);
            if (std::chrono::duration<double>(Clock::now() - begin).count() > patience_s)
                throw away(fmt::format("{}: {}", failing, words));
            std::this_thread::sleep_for(between_tries);
        }
    }

    void open(const QueueAddress& address);
    void close();
    natsStatus make_stream();
    natsStatus make_consumer(const ShelfKey& shelf, Listening& to);
    [[nodiscard]] bool connected() const {
        return nats().natsConnection_Status(connection) == NATS_CONN_STATUS_CONNECTED;
    }
    void require_contact();
    void mend(const ShelfKey& shelf, Listening& to);
};

namespace {

bool refused(natsStatus s) {
    return s == NATS_CONNECTION_AUTH_FAILED || s == NATS_SSL_ERROR || s == NATS_SECURE_CONNECTION_REQUIRED ||
           s == NATS_SECURE_CONNECTION_WANTED;
}

}  // namespace

void Broker::Connection::open(const QueueAddress& address) {
    const std::shared_ptr<void> options = nats_options(address);
    persist("does not answer", [&] {
        const natsStatus s =
            nats().natsConnection_Connect(&connection, static_cast<natsOptions*>(options.get()));
        if (refused(s))
            throw Error(ErrorKind::io,
                        fmt::format("the queue {} refuses the connection: {}", shown, nats_words(s)),
                        "look at credentials, certificates, and whether it wants tls://");
        return s;
    });
    jsOptions js;
    nats().jsOptions_Init(&js);
    js.Wait = request_ms;
    if (const natsStatus s = nats().natsConnection_JetStream(&stream, connection, &js); s != NATS_OK) {
        const std::string words = nats_words(s);
        close();
        throw away(fmt::format("cannot be used: {}", words));
    }
}

void Broker::Connection::close() {
    for (auto& [shelf, to] : listening)
        nats().natsSubscription_Destroy(to.subscription);
    listening.clear();
    nats().jsCtx_Destroy(stream);
    nats().natsConnection_Close(connection);
    nats().natsConnection_Destroy(connection);
    stream = nullptr;
    connection = nullptr;
}

/// One that is there already, with bounds or copies of its operator's choice, is used as it is.
natsStatus Broker::Connection::make_stream() {
    jsStreamConfig c;
    nats().jsStreamConfig_Init(&c);
    const std::string all = fmt::format("{}>", subject_root);
    std::array<const char*, 1> subjects{all.c_str()};
    c.Name = stream_name;
    c.Subjects = subjects.data();
    c.SubjectsLen = 1;
    c.Retention = js_WorkQueuePolicy;
    c.Storage = js_FileStorage;
    c.Discard = js_DiscardNew;
    c.MaxMsgs = most_waiting;
    c.MaxBytes = most_bytes;
    c.Duplicates = ids_remembered;
    jsErrCode code{};
    natsStatus s = nats().js_AddStream(nullptr, stream, &c, nullptr, &code);
    if (code != JSStreamNameExistErr)
        return s;
    jsStreamInfo* info = nullptr;
    s = nats().js_GetStreamInfo(&info, stream, stream_name, nullptr, &code);
    if (s != NATS_OK)
        return s;
    const bool fits = info->Config->Retention == js_WorkQueuePolicy && info->Config->Discard == js_DiscardNew;
    nats().jsStreamInfo_Destroy(info);
    if (!fits)
        throw Error(ErrorKind::input,
                    fmt::format("the queue {} has a stream {} of another kind", shown, stream_name),
                    "it needs work-queue retention and discards what is new when it is full");
    return NATS_OK;
}

natsStatus Broker::Connection::make_consumer(const ShelfKey& shelf, Listening& to) {
    const std::string subject = subject_of(shelf);
    const std::string name = consumer_of(shelf);
    jsConsumerConfig c;
    nats().jsConsumerConfig_Init(&c);
    c.Durable = name.c_str();
    c.DeliverPolicy = js_DeliverAll;
    c.AckPolicy = js_AckExplicit;
    c.AckWait = static_cast<std::int64_t>(to.sign_of_life.seconds() * static_cast<double>(second));
    c.MaxDeliver = -1;  // workers count, and set aside what comes too often
    c.MaxAckPending = -1;
    c.FilterSubject = subject.c_str();
    c.InactiveThreshold = consumer_kept;
    jsErrCode code{};
    natsStatus s = nats().js_AddConsumer(nullptr, stream, stream_name, &c, nullptr, &code);
    if (s != NATS_OK)
        return s;
    nats().natsSubscription_Destroy(to.subscription);
    to.subscription = nullptr;
    jsSubOptions o;
    nats().jsSubOptions_Init(&o);
    o.Stream = stream_name;
    o.Consumer = name.c_str();
    return nats().js_PullSubscribe(&to.subscription, stream, subject.c_str(), name.c_str(), nullptr, &o,
                                   &code);
}

void Broker::Connection::require_contact() {
    if (connected())
        contact = Clock::now();
    else if (std::chrono::duration<double>(Clock::now() - contact).count() > patience_s)
        throw away(fmt::format("has been away for {:.0f} s", patience_s));
}

/// The broker is there and has lost the stream or the consumer, or never had them: a new disk, or nobody came
/// for days.
void Broker::Connection::mend(const ShelfKey& shelf, Listening& to) {
    if (!connected() || Clock::now() - mended < std::chrono::seconds(1))
        return;
    mended = Clock::now();
    if (make_stream() == NATS_OK)
        (void)make_consumer(shelf, to);
}

Broker::Broker(const QueueAddress& address, Duration patience)
    : m_connection(std::make_unique<Connection>(address, patience)) {}
Broker::~Broker() = default;

std::size_t Broker::largest() const {
    const std::int64_t n = nats().natsConnection_GetMaxPayload(m_connection->connection);
    return n > 0 ? static_cast<std::size_t>(n) : std::size_t{1} << 20;
}

Put Broker::publish(const ShelfKey& shelf, const std::string& id, const std::string& bytes) {
    const std::string subject = subject_of(shelf);
    Put out = Put::taken;
    m_connection->persist("does not take moves", [&] {
        jsPubOptions o;
        nats().jsPubOptions_Init(&o);
        o.MsgId = id.c_str();
        jsErrCode code{};
        jsPubAck* ack = nullptr;
        natsStatus s = nats().js_Publish(&ack, m_connection->stream, subject.c_str(), bytes.data(),
                                         static_cast<int>(bytes.size()), &o, &code);
        if (s == NATS_OK)
            out = ack->Duplicate ? Put::known : Put::taken;
        nats().jsPubAck_Destroy(ack);
        if (s != NATS_OK && says_full(s, code)) {
            out = Put::full;
            s = NATS_OK;
        }
        if (s == NATS_NO_RESPONDERS || code == JSStreamNotFoundErr)
            (void)m_connection->make_stream();
        return s;
    });
    return out;
}

std::vector<std::pair<ShelfKey, std::size_t>> Broker::all_waiting() {
    std::vector<std::pair<ShelfKey, std::size_t>> out;
    if (!m_connection->connected())
        return out;
    jsOptions o;
    nats().jsOptions_Init(&o);
    const std::string all = fmt::format("{}>", subject_root);
    o.Stream.Info.SubjectsFilter = all.c_str();
    jsStreamInfo* info = nullptr;
    jsErrCode code{};
    const natsStatus s = nats().js_GetStreamInfo(&info, m_connection->stream, stream_name, &o, &code);
    if (s == NATS_OK && info->State.Subjects != nullptr)
        for (int i = 0; i < info->State.Subjects->Count; ++i) {
            const jsStreamStateSubject& one = info->State.Subjects->List[i];
            if (std::optional<ShelfKey> shelf = shelf_of(one.Subject))
                out.emplace_back(std::move(*shelf), one.Msgs);
        }
    if (s == NATS_OK)
        nats().jsStreamInfo_Destroy(info);
    return out;
}

std::optional<std::size_t> Broker::waiting(const ShelfKey& shelf) {
    jsOptions o;
    nats().jsOptions_Init(&o);
    const std::string subject = subject_of(shelf);
    o.Stream.Info.SubjectsFilter = subject.c_str();
    jsStreamInfo* info = nullptr;
    jsErrCode code{};
    const natsStatus s = nats().js_GetStreamInfo(&info, m_connection->stream, stream_name, &o, &code);
    m_connection->require_contact();
    if (code == JSStreamNotFoundErr)
        return 0;
    if (s != NATS_OK)
        return std::nullopt;
    std::size_t out = 0;
    if (info->State.Subjects != nullptr && info->State.Subjects->Count > 0)
        out = info->State.Subjects->List[0].Msgs;
    nats().jsStreamInfo_Destroy(info);
    return out;
}

std::optional<HandingOut> Broker::handing_out(const ShelfKey& shelf) {
    if (!m_connection->connected())
        return std::nullopt;
    const std::string name = consumer_of(shelf);
    jsConsumerInfo* info = nullptr;
    jsErrCode code{};
    if (nats().js_GetConsumerInfo(&info, m_connection->stream, stream_name, name.c_str(), nullptr, &code) !=
        NATS_OK)
        return std::nullopt;
    HandingOut out;
    out.accounted =
        info->NumPending + static_cast<std::uint64_t>(std::max<std::int64_t>(0, info->NumAckPending));
    out.deliveries = info->Delivered.Consumer;
    nats().jsConsumerInfo_Destroy(info);
    const std::optional<std::size_t> there = waiting(shelf);
    if (!there)
        return std::nullopt;
    out.in_queue = *there;
    return out;
}

void Broker::hand_out_again(const ShelfKey& shelf) {
    const std::string name = consumer_of(shelf);
    (void)nats().js_DeleteConsumer(m_connection->stream, stream_name, name.c_str(), nullptr, nullptr);
    Listening& to = m_connection->listening.at(shelf);
    m_connection->persist("gives no moves", [&] { return m_connection->make_consumer(shelf, to); });
}

void Broker::listen(const ShelfKey& shelf, Duration sign_of_life) {
    Listening& to = m_connection->listening[shelf];
    to.sign_of_life = sign_of_life;
    m_connection->persist("gives no moves", [&] { return m_connection->make_consumer(shelf, to); });
}

std::optional<Delivery> Broker::take(const ShelfKey& shelf, milliseconds wait) {
    Listening& to = m_connection->listening.at(shelf);
    jsFetchRequest request;
    nats().jsFetchRequest_Init(&request);
    request.Batch = 1;
    request.Expires = wait.count() * 1'000'000;
    natsMsgList list{};
    const natsStatus s = to.subscription == nullptr
                             ? NATS_INVALID_SUBSCRIPTION
                             : nats().natsSubscription_FetchRequest(&list, to.subscription, &request);
    m_connection->require_contact();
    if (s != NATS_OK || list.Count == 0) {
        if (s != NATS_OK && s != NATS_TIMEOUT && s != NATS_NOT_FOUND) {
            m_connection->mend(shelf, to);
            std::this_thread::sleep_for(std::min(wait, between_tries));
        }
        nats().natsMsgList_Destroy(&list);
        return std::nullopt;
    }
    Delivery d;
    natsMsg* message = list.Msgs[0];
    list.Msgs[0] = nullptr;
    nats().natsMsgList_Destroy(&list);
    d.message =
        std::shared_ptr<void>(message, [](void* m) { nats().natsMsg_Destroy(static_cast<natsMsg*>(m)); });
    d.bytes.assign(nats().natsMsg_GetData(message),
                   static_cast<std::size_t>(nats().natsMsg_GetDataLength(message)));
    jsMsgMetaData* meta = nullptr;
    if (nats().natsMsg_GetMetaData(&meta, message) == NATS_OK) {
        d.tries = meta->NumDelivered;
        d.sequence = meta->Sequence.Stream;
        nats().jsMsgMetaData_Destroy(meta);
    }
    return d;
}

// What these three send may be lost with a connection: then the move comes again, and has its answer.
void Broker::acknowledge(const Delivery& d) const {
    (void)nats().natsMsg_Ack(static_cast<natsMsg*>(d.message.get()), nullptr);
}

void Broker::give_back(const Delivery& d) const {
    (void)nats().natsMsg_Nak(static_cast<natsMsg*>(d.message.get()), nullptr);
}

void Broker::still_at_it(const Delivery& d) const {
    (void)nats().natsMsg_InProgress(static_cast<natsMsg*>(d.message.get()), nullptr);
}

void Broker::flush() const {
    (void)nats().natsConnection_FlushTimeout(m_connection->connection, 2000);
}

}  // namespace loamway
