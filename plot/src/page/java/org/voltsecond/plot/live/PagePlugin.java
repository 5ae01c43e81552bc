package org.voltsecond.plot.live;

import org.teavm.model.AccessLevel;
import org.teavm.model.ClassHolder;
import org.teavm.model.ClassHolderTransformer;
import org.teavm.model.ClassHolderTransformerContext;
import org.teavm.model.ElementModifier;
import org.teavm.model.MethodDescriptor;
import org.teavm.model.MethodHolder;
import org.teavm.model.emit.ProgramEmitter;
import org.teavm.vm.spi.TeaVMHost;
import org.teavm.vm.spi.TeaVMPlugin;

/** Leaves out of the script what no page needs, and no class could stand in place of. */
public final class PagePlugin implements TeaVMPlugin, ClassHolderTransformer {
    private static final MethodDescriptor TEXT = new MethodDescriptor("toString", String.class);
    private static final MethodDescriptor HASH = new MethodDescriptor("hashCode", int.class);

    @Override
    public void install(TeaVMHost host) {
        host.add(this);
    }

    @Override
    public void transformClass(ClassHolder type, ClassHolderTransformerContext context) {
        if (Record.class.getName().equals(type.getParent())) {
            dropMade(type, TEXT);
            dropMade(type, HASH);
        } else if (type.getName().equals(Record.class.getName())) {
            hashByType(type, context);
        } else if (type.getName().equals(Character.class.getName())) {
            ask(type.getMethod(named("getType")), "type", context);
            ask(type.getMethod(named("toLowerCase")), "lower", context);
        }
    }

    private static MethodDescriptor named(String name) {
        return new MethodDescriptor(name, int.class, int.class);
    }

    /**
     * What the Java compiler makes of each record: a text, which no message of this library holds, and a hash code, in place of which
     * all have that of their type. Records are seldom keys in a page, and then of few entries.
     */
    private static void dropMade(ClassHolder type, MethodDescriptor which) {
        MethodHolder made = type.getMethod(which);
        // what it makes is final, what somebody wrote in its place is not
        if (made != null && made.hasModifier(ElementModifier.FINAL)) {
            type.removeMethod(made);
        }
    }

    private static void hashByType(ClassHolder record, ClassHolderTransformerContext context) {
        MethodHolder hash = new MethodHolder(HASH);
        hash.setLevel(AccessLevel.PUBLIC);
        record.addMethod(hash);
        ProgramEmitter program = ProgramEmitter.create(hash, context.getHierarchy());
        program.var(0, Record.class)
                .invokeVirtual("getClass", Class.class)
                .invokeVirtual("hashCode", int.class)
                .returnValue();
    }

    /** Lets the browser tell what a character is. */
    private static void ask(MethodHolder method, String name, ClassHolderTransformerContext context) {
        ProgramEmitter program = ProgramEmitter.create(method, context.getHierarchy());
        program.invoke(PageCharacters.class, name, int.class, program.var(1, int.class))
                .returnValue();
    }
}
