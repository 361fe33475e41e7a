// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BATCH_NATS_FUNCTIONS_H
#define LOAMWAY_SRC_BATCH_NATS_FUNCTIONS_H

// The functions of the queue's client library that this part calls, as pointers filled when a queue is first
// needed. Each is typed by its declaration in the library's header, which a .cpp file includes before this
// one; so the compiler checks every call as if the library were linked. A new function is one more line.

#define LOAMWAY_NATS_FUNCTIONS(F)              \
    F(nats_GetLastError)                       \
    F(natsStatus_GetText)                      \
    F(natsOptions_Create)                      \
    F(natsOptions_Destroy)                     \
    F(natsOptions_SetServers)                  \
    F(natsOptions_SetUserInfo)                 \
    F(natsOptions_SetToken)                    \
    F(natsOptions_SetUserCredentialsFromFiles) \
    F(natsOptions_SetSecure)                   \
    F(natsOptions_LoadCATrustedCertificates)   \
    F(natsOptions_SetName)                     \
    F(natsOptions_SetTimeout)                  \
    F(natsOptions_SetMaxReconnect)             \
    F(natsOptions_SetReconnectWait)            \
    F(natsOptions_SetPingInterval)             \
    F(natsOptions_SetErrorHandler)             \
    F(natsConnection_Connect)                  \
    F(natsConnection_Status)                   \
    F(natsConnection_GetMaxPayload)            \
    F(natsConnection_FlushTimeout)             \
    F(natsConnection_Close)                    \
    F(natsConnection_Destroy)                  \
    F(natsConnection_JetStream)                \
    F(jsCtx_Destroy)                           \
    F(jsOptions_Init)                          \
    F(jsStreamConfig_Init)                     \
    F(js_AddStream)                            \
    F(js_GetStreamInfo)                        \
    F(jsStreamInfo_Destroy)                    \
    F(jsConsumerConfig_Init)                   \
    F(js_AddConsumer)                          \
    F(js_GetConsumerInfo)                      \
    F(js_DeleteConsumer)                       \
    F(jsConsumerInfo_Destroy)                  \
    F(jsSubOptions_Init)                       \
    F(js_PullSubscribe)                        \
    F(natsSubscription_Destroy)                \
    F(jsFetchRequest_Init)                     \
    F(natsSubscription_FetchRequest)           \
    F(natsMsgList_Destroy)                     \
    F(natsMsg_GetData)                         \
    F(natsMsg_GetDataLength)                   \
    F(natsMsg_GetMetaData)                     \
    F(jsMsgMetaData_Destroy)                   \
    F(natsMsg_Ack)                             \
    F(natsMsg_Nak)                             \
    F(natsMsg_InProgress)                      \
    F(natsMsg_Destroy)                         \
    F(jsPubOptions_Init)                       \
    F(js_Publish)                              \
    F(jsPubAck_Destroy)

namespace loamway {

struct NatsFunctions {
#define LOAMWAY_NATS_MEMBER(name) decltype(&::name) name = nullptr;
    LOAMWAY_NATS_FUNCTIONS(LOAMWAY_NATS_MEMBER)
#undef LOAMWAY_NATS_MEMBER
};

/// io Error when the library is not there.
[[nodiscard]] const NatsFunctions& nats();

}  // namespace loamway

#endif
