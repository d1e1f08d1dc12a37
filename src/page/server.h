/* server.h - the steps that the HTTP library calls. */
#ifndef HALFTURN_PAGE_SERVER_H
#define HALFTURN_PAGE_SERVER_H

#include <microhttpd.h>

enum MHD_Result request_step(void *context, struct MHD_Connection *connection,
                             const char *url, const char *method,
                             const char *version, const char *data,
                             size_t *data_size, void **state);
void request_end(void *context, struct MHD_Connection *connection,
                 void **state, enum MHD_RequestTerminationCode why);

#endif
