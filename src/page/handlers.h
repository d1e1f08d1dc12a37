/* handlers.h - what each address does; page_routes names them. */
#ifndef HALFTURN_PAGE_HANDLERS_H
#define HALFTURN_PAGE_HANDLERS_H

#include "request.h"

void handle_about(struct request *request, struct answer *answer);
void handle_asset(struct request *request, struct answer *answer);

void handle_list(struct request *request, struct answer *answer);
void handle_add(struct request *request, struct answer *answer);
void handle_sample(struct request *request, struct answer *answer);
void handle_import(struct request *request, struct answer *answer);
void handle_get(struct request *request, struct answer *answer);
void handle_save(struct request *request, struct answer *answer);
void handle_undo(struct request *request, struct answer *answer);
void handle_redo(struct request *request, struct answer *answer);
void handle_remove(struct request *request, struct answer *answer);
void handle_keep_file(struct request *request, struct answer *answer);
void handle_drop_file(struct request *request, struct answer *answer);

/* `with` of the route: the kind of job */
void handle_work(struct request *request, struct answer *answer);
void handle_work_sent(struct request *request, struct answer *answer);
void handle_parts(struct request *request, struct answer *answer);
void handle_progress(struct request *request, struct answer *answer);
void handle_cancel(struct request *request, struct answer *answer);
void handle_report_pdf(struct request *request, struct answer *answer);
void handle_measuring(struct request *request, struct answer *answer);
void handle_export(struct request *request, struct answer *answer);

/* The store, for one thread at a time. */
struct ht_store *store_take(struct page *page);
void store_give(struct page *page);

/* Has what the store put aside removed, after this arrival (NULL: none) was
 * dropped; nobody waits for it. */
void parcels_tidy(struct page *page, struct ht_arrival *arrival);

#endif
