/* program.c - the whole program, linked to what writes its sentences down. */
int halfturn_main(int argc, char **argv);

int main(int argc, char **argv)
{
    return halfturn_main(argc, argv);
}
