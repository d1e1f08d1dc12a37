/* As much of CSS (Selectors Level 3, sections 6 and 9) as figure.css is written
 * in: an element's name, its classes, lists of both; no comments. */
#include "styles.h"

#include "common/embed.h"

#include <ctype.h>
#include <string.h>

EMBED(ht_figure_css, "report/figure.css");

/* What a drawing needs; other properties are for browsers. */
static const char *const properties[] = {
    "fill",        "stroke",      "stroke-width", "stroke-dasharray",
    "stroke-linejoin", "opacity", "font-size",    "font-weight",
    "text-anchor", "image-rendering",
};
enum { PROPERTIES = sizeof properties / sizeof *properties };

struct style {
    struct piece value[PROPERTIES];
    int weight[PROPERTIES]; /* of the selector that set it */
};

/* ---- selectors ---------------------------------------------------------- */

static bool has_class(const struct piece *classes, const struct piece *one)
{
    const char *at = classes->at, *end = classes->at + classes->length;
    while (at < end) {
        size_t length = 0;
        while (at + length < end && at[length] != ' ')
            length++;
        if (length == one->length && memcmp(at, one->at, length) == 0)
            return true;
        at += length + 1;
    }
    return false;
}

/* Its specificity, 0 when it does not match. */
static int weigh(struct piece selector, const struct piece *element,
                 const struct piece *classes)
{
    int weight = 0;
    while (selector.length) {
        bool is_class = *selector.at == '.';
        struct piece part = { selector.at + is_class, 0 };
        size_t room = selector.length - is_class;
        while (part.length < room && part.at[part.length] != '.')
            part.length++;
        if (is_class ? !has_class(classes, &part)
                     : part.length != element->length ||
                           memcmp(part.at, element->at, part.length) != 0)
            return 0;
        weight += is_class ? 10 : 1;
        selector.at = part.at + part.length;
        selector.length = room - part.length;
    }
    return weight;
}

/* The largest of a list. */
static int weigh_list(const char *at, const char *end,
                      const struct piece *element, const struct piece *classes)
{
    int most = 0;
    while (at < end) {
        struct piece selector = { at, 0 };
        while (at < end && *at != ',')
            at++;
        selector.length = (size_t)(at++ - selector.at);
        while (selector.length && isspace((unsigned char)*selector.at)) {
            selector.at++;
            selector.length--;
        }
        int weight = weigh(selector, element, classes);
        most = weight > most ? weight : most;
    }
    return most;
}

/* ---- declarations ------------------------------------------------------- */

static void set(struct style *style, const struct piece *name,
                const struct piece *value, int weight)
{
    for (size_t i = 0; i < PROPERTIES; i++)
        if (piece_is(name, properties[i]) && weight >= style->weight[i]) {
            style->value[i] = *value;
            style->weight[i] = weight;
        }
}

/* From behind '{'; returns the '}'. */
static const char *read_block(struct style *style, const char *at, int weight)
{
    while (*at && *at != '}') {
        at += strspn(at, " \n;");
        struct piece name = { at, strcspn(at, ":};") };
        at += name.length;
        if (*at != ':')
            continue;
        struct piece value = { at + 1, strcspn(at + 1, ";}") };
        at = value.at + value.length;
        if (weight)
            set(style, &name, &value, weight);
    }
    return at;
}

static void look_up(struct style *style, const struct piece *element,
                    const struct piece *classes)
{
    *style = (struct style){ 0 };
    for (const char *at = ht_figure_css; *at;) {
        const char *open = strchr(at, '{');
        if (!open)
            break;
        int weight = weigh_list(at, open, element, classes);
        at = read_block(style, open + 1, weight);
        at += *at == '}';
    }
}

/* ---- values ------------------------------------------------------------- */

/* The first of that name is the light one. */
static struct piece palette(const struct piece *name)
{
    for (const char *at = ht_report_css; (at = strstr(at, "--")); at += 2)
        if (strncmp(at, name->at, name->length) == 0 &&
            at[name->length] == ':') {
            const char *from = at + name->length + 1;
            return (struct piece){ from, strcspn(from, ";}") };
        }
    return (struct piece){ "none", 4 };
}

static void put_value(struct ht_text *out, struct piece value)
{
    static const char var[] = "var", px[] = "px";
    size_t length = sizeof var; /* and '(' */
    if (value.length > length && memcmp(value.at, var, length - 1) == 0) {
        struct piece name = { value.at + length, value.length - length - 1 };
        value = palette(&name);
    }
    length = sizeof px - 1;
    if (value.length > length &&
        memcmp(value.at + value.length - length, px, length) == 0)
        value.length -= length;
    ht_text_add_bytes(out, value.at, value.length);
}

static bool is_stroke(const char *property)
{
    return strncmp(property, "stroke", strlen("stroke")) == 0;
}

static bool put_style(struct ht_text *out, const struct piece *element,
                      const struct piece *classes, bool outline)
{
    struct style style;
    bool stroke = false;
    look_up(&style, element, classes);
    for (size_t i = 0; i < PROPERTIES; i++) {
        if (style.weight[i] == 0 || (!outline && is_stroke(properties[i])))
            continue;
        ht_text_addf(out, " %s=\"", properties[i]);
        put_value(out, style.value[i]);
        ht_text_add(out, "\"");
        stroke = stroke || strcmp(properties[i], "stroke") == 0;
    }
    return stroke;
}

bool style_attributes(struct ht_text *out, const struct piece *element,
                      const struct piece *classes)
{
    return put_style(out, element, classes, true);
}

void style_without_stroke(struct ht_text *out, const struct piece *element,
                          const struct piece *classes)
{
    (void)put_style(out, element, classes, false);
}
