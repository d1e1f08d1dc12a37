#include "server.h"

#include "jobs.h"
#include "page.h"
#include "texts.h"
#include "watch.h"

#include "common/memory.h"

#include <arpa/inet.h>
#include <errno.h>
#include <netinet/in.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <sys/random.h>
#include <sys/socket.h>
#include <unistd.h>

enum {
    CONNECTIONS = 64, FROM_ONE_ADDRESS = 12, IDLE_S = 30,
    HEAD_BYTES = 16 * 1024, WAITING_CONNECTIONS = 64
};

struct server {
    struct page page;
    struct MHD_Daemon *daemon;
    char address[96];
};

/* ---- start ------------------------------------------------------------- */

static enum ht_status make_token(char token[PAGE_TOKEN], struct ht_error *err)
{
    unsigned char byte[(PAGE_TOKEN - 1) / 2];
    /* up to 256 bytes come whole or not at all (getrandom(2)) */
    if (getrandom(byte, sizeof byte, 0) != (ssize_t)sizeof byte)
        return ht_fail(err, PAGE_NO_CHANCE, strerror(errno));
    for (size_t i = 0; i < sizeof byte; i++)
        (void)snprintf(token + 2 * i, 3, "%02x", byte[i]);
    return HT_OK;
}

static enum ht_status cannot_listen(unsigned port, struct ht_error *err)
{
    if (errno == EADDRINUSE)
        return ht_fail(err, PAGE_PORT_TAKEN, port);
    return ht_fail(err, PAGE_PORT_NOT_OURS, port, strerror(errno));
}

/* Loopback only: nobody else on the network can reach it. */
static enum ht_status listen_on(int *socket_, unsigned *port,
                                struct ht_error *err)
{
    struct sockaddr_in at = { .sin_family = AF_INET,
                              .sin_port = htons((uint16_t)*port),
                              .sin_addr.s_addr = htonl(INADDR_LOOPBACK) };
    socklen_t length = sizeof at;
    int on = 1;
    *socket_ = socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
    if (*socket_ < 0)
        return cannot_listen(*port, err);
    (void)setsockopt(*socket_, SOL_SOCKET, SO_REUSEADDR, &on, sizeof on);
    if (bind(*socket_, (struct sockaddr *)&at, sizeof at) != 0 ||
        listen(*socket_, WAITING_CONNECTIONS) != 0 ||
        getsockname(*socket_, (struct sockaddr *)&at, &length) != 0) {
        enum ht_status status = cannot_listen(*port, err);
        (void)close(*socket_);
        *socket_ = -1;
        return status;
    }
    *port = ntohs(at.sin_port);
    return HT_OK;
}

/* Names and percent signs are taken apart by our own rules. */
static size_t leave_as_it_is(void *context, struct MHD_Connection *connection,
                             char *text)
{
    (void)context;
    (void)connection;
    return strlen(text);
}

static void note_connection(void *context, struct MHD_Connection *connection,
                            void **state,
                            enum MHD_ConnectionNotificationCode what)
{
    struct page *page = context;
    if (what == MHD_CONNECTION_NOTIFY_STARTED) {
        const union MHD_ConnectionInfo *info = MHD_get_connection_info(
            connection, MHD_CONNECTION_INFO_CONNECTION_FD);
        *state = info ? page_watch_begin(page->watch, info->connect_fd) : NULL;
    } else {
        page_watch_end(*state);
        *state = NULL;
    }
}

static struct MHD_Daemon *start_daemon(struct page *page, int socket_)
{
    return MHD_start_daemon(
        MHD_USE_EPOLL_INTERNAL_THREAD | MHD_ALLOW_SUSPEND_RESUME, 0, NULL,
        NULL, request_step, page, MHD_OPTION_LISTEN_SOCKET, socket_,
        MHD_OPTION_CONNECTION_LIMIT, (unsigned)CONNECTIONS,
        MHD_OPTION_PER_IP_CONNECTION_LIMIT, (unsigned)FROM_ONE_ADDRESS,
        MHD_OPTION_CONNECTION_TIMEOUT, (unsigned)IDLE_S,
        MHD_OPTION_CONNECTION_MEMORY_LIMIT, (size_t)HEAD_BYTES,
        MHD_OPTION_STRICT_FOR_CLIENT, 1, MHD_OPTION_UNESCAPE_CALLBACK,
        leave_as_it_is, NULL, MHD_OPTION_NOTIFY_COMPLETED, request_end, page,
        MHD_OPTION_NOTIFY_CONNECTION, note_connection, page, MHD_OPTION_END);
}

static void name_hosts(struct server *server, unsigned port)
{
    static const char *const names[PAGE_HOSTS] = { "127.0.0.1", "localhost",
                                                   "[::1]" };
    struct page *page = &server->page;
    for (size_t i = 0; i < PAGE_HOSTS; i++)
        (void)snprintf(page->host[i], sizeof page->host[i], "%s:%u", names[i],
                       port);
    (void)snprintf(server->address, sizeof server->address, "http://%s/#%s",
                   page->host[0], page->token);
}

static void free_server(struct server *server)
{
    page_watch_free(server->page.watch);
    jobs_free(server->page.jobs);
    ht_store_close(server->page.store);
    (void)pthread_mutex_destroy(&server->page.store_lock);
    ht_release(server);
}

/* All but the server of HTTP itself. */
static enum ht_status open_page(struct page *page,
                                const struct page_options *options,
                                struct ht_error *err)
{
    page->shop = options->shop;
    enum ht_status status = make_token(page->token, err);
    if (status == HT_OK)
        status = ht_store_open(&page->store, options->folder, NULL, err);
    if (status != HT_OK)
        return status;
    ht_store_call_short(page->store);
    ht_store_put_off(page->store);
    page->watch = page_watch_create();
    if (page->watch)
        page->jobs = jobs_create(page);
    return page->jobs ? HT_OK : ht_fail(err, PAGE_NO_MEMORY);
}

static enum ht_status serve_on(struct server *server, int socket_,
                               struct ht_error *err)
{
    server->daemon = start_daemon(&server->page, socket_);
    if (server->daemon)
        return HT_OK;
    enum ht_status status = ht_fail(err, PAGE_NO_SERVER, strerror(errno));
    (void)close(socket_);
    jobs_stop(server->page.jobs);
    return status;
}

enum ht_status server_start(struct server **server,
                            const struct page_options *options,
                            struct ht_error *err)
{
    unsigned port = options->port;
    int socket_ = -1;
    *server = NULL;
    struct server *made = ht_allocate(1, sizeof *made);
    if (!made)
        return ht_fail(err, PAGE_NO_MEMORY);
    (void)pthread_mutex_init(&made->page.store_lock, NULL);
    enum ht_status status = listen_on(&socket_, &port, err);
    if (status == HT_OK) {
        status = open_page(&made->page, options, err);
        if (status != HT_OK)
            (void)close(socket_);
    }
    if (status == HT_OK) {
        name_hosts(made, port); /* asked for with the first request */
        status = serve_on(made, socket_, err);
    }
    if (status != HT_OK) {
        free_server(made);
        return status;
    }
    *server = made;
    return HT_OK;
}

const char *server_address(const struct server *server)
{
    return server->address;
}

void server_tend(struct server *server)
{
    jobs_beat(server->page.jobs);
}

/* Whoever waits for work is answered while the daemon still runs. */
void server_stop(struct server *server)
{
    int socket_ = MHD_quiesce_daemon(server->daemon);
    jobs_stop(server->page.jobs);
    MHD_stop_daemon(server->daemon);
    if (socket_ >= 0)
        (void)close(socket_);
    free_server(server);
}
