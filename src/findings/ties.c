/* Lines that the drive could not separate: they speak as one. */
#include "findings/texts.h"
#include "findings/weigh.h"

#include <stdint.h>
#include <string.h>

static const struct ht_order_result *named(const struct ht_orders *orders,
                                           const char *name)
{
    for (size_t i = 0; i < orders->results; i++)
        if (orders->result[i].channel == -1 &&
            strcmp(orders->result[i].order.name, name) == 0)
            return &orders->result[i];
    return NULL;
}

/* There is a line, and only whose it is cannot be told. */
static bool shared(const struct ht_order_result *result)
{
    return result && result->state == HT_COULD_NOT_BE_SEEN &&
           result->level.value > 0 && result->level.low > 0;
}

static size_t speaker_of(const struct ht_findings *findings, size_t f)
{
    while (findings->finding[f].one_with != f)
        f = findings->finding[f].one_with;
    return f;
}

static void join(struct ht_findings *findings, size_t a, size_t b)
{
    size_t first = speaker_of(findings, a), second = speaker_of(findings, b);
    findings->finding[first > second ? first : second].one_with =
        first > second ? second : first;
}

static void tie_pair(struct ht_findings *findings,
                     const struct ht_findings_input *input, const char *a,
                     const char *b)
{
    const struct ht_order_result *first = named(input->orders, a);
    const struct ht_order_result *second = named(input->orders, b);
    if (!shared(first) || !shared(second))
        return;
    size_t fa = ht_line_about(&first->order, input);
    size_t fb = ht_line_about(&second->order, input);
    if (fa == SIZE_MAX && fb == SIZE_MAX)
        return;
    if (fa != SIZE_MAX && fb != SIZE_MAX)
        join(findings, fa, fb);
    else
        findings->finding[fa != SIZE_MAX ? fa : fb].strangers++;
    bool first_speaks =
        fa != SIZE_MAX && (fb == SIZE_MAX || fa < fb);
    size_t speaker = speaker_of(findings, first_speaks ? fa : fb);
    ht_line_say_seen(&findings->finding[speaker], input->orders,
                     first_speaks ? first : second, first_speaks ? b : a);
}

void ht_findings_tie(struct ht_findings *findings,
                     const struct ht_findings_input *input)
{
    const struct ht_orders *orders = input->orders;
    for (size_t i = 0; orders && i < orders->cannot_separate_count; i++)
        tie_pair(findings, input, orders->cannot_separate[i].a,
                 orders->cannot_separate[i].b);
    for (size_t f = 0; f < findings->findings; f++) {
        struct ht_finding *finding = &findings->finding[f];
        finding->one_with = speaker_of(findings, f);
        if (finding->one_with == f)
            continue;
        ht_finding_say(finding, 3, (double[]){ 1, 1, 1 },
                       FINDINGS_IN_ONE_LINE);
    }
}
