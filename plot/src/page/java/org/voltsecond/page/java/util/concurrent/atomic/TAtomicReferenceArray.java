package org.voltsecond.page.java.util.concurrent.atomic;

/** What the class library of the compiler lacks of {@code AtomicReferenceArray}: a page has one thread. */
public class TAtomicReferenceArray<E> {
    private final Object[] items;

    public TAtomicReferenceArray(int length) {
        items = new Object[length];
    }

    @SuppressWarnings("unchecked")
    public E get(int index) {
        return (E) items[index];
    }

    public void set(int index, E item) {
        items[index] = item;
    }
}
